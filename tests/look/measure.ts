/** Owns what is measured on the page of the screen, inside it: every text with its size, its place and its colours. Refers to nothing outside itself. */
export interface Measured {
  readonly words: string;
  readonly seconds: boolean;
  readonly title: boolean;
  /** For the one person who leads, while nobody works: not a text of the class. */
  readonly near: boolean;
  readonly under: boolean;
  /** Where the tide may stand behind it. */
  readonly tide: boolean;
  /** Pixels as drawn, transforms included. */
  readonly fontPx: number;
  readonly colour: string;
  /** Its own ground, where it has one; else it stands on the wall. */
  readonly ground: string | null;
}

interface Look {
  readonly texts: Measured[];
  readonly faults: string[];
  readonly tones: Record<string, string>;
}

export function measureAll(): Look {
  const wall = document.querySelector('.wall') as HTMLElement;
  const bounds = wall.getBoundingClientRect();
  const seen = (e: Element) => e.getClientRects().length > 0 && getComputedStyle(e).visibility !== 'hidden';
  const own = (e: Element) => [...e.childNodes].filter((n) => n.nodeType === 3 && (n.textContent ?? '').trim() !== '');
  const leaves = [...wall.querySelectorAll<HTMLElement>('p, span, li, h1, button, output, text')].filter((e) => own(e).length > 0 && seen(e));
  const faults: string[] = [];
  const boxes: { words: string; of: Element; left: number; right: number; top: number; bottom: number }[] = [];
  const texts = leaves.map((e) => {
    const style = getComputedStyle(e);
    const em = Number.parseFloat(style.fontSize);
    const words = (e.textContent ?? '').trim();
    const range = document.createRange();
    range.selectNodeContents(e);
    // Lines are higher than their letters. The typeface says 0.984 em over the line and 0.316 under it (hhea); its digits are
    // 0.68 high and have nothing under the line, its letters reach from 0.74 to -0.2. Other scripts: a sixth of an em each.
    const digits = e.classList.contains('seconds');
    const latin = /^[\u0020-\u024f\u2000-\u206f\u2212]*$/.test(words);
    const [above, below] = digits ? [0.29 * em, 0.3 * em] : latin ? [0.24 * em, 0.11 * em] : [0.17 * em, 0.17 * em];
    const over = e.closest('.set-up, .delay, .ask-phone') ? 2 : 1;
    for (const box of range.getClientRects()) {
      if (box.width === 0) continue;
      const line = { words, of: e, left: box.left, right: box.right, top: box.top + above, bottom: box.bottom - below };
      if (line.left < bounds.left - 1 || line.right > bounds.right + 1 || line.top < bounds.top - 1 || line.bottom > bounds.bottom + 1) faults.push(`outside: ${words}`);
      for (const other of boxes) {
        if (other.of === e || (over === 2) !== (other.of.closest('.set-up, .delay, .ask-phone') !== null)) continue;
        if (line.left < other.right - 1 && other.left < line.right - 1 && line.top < other.bottom - 1 && other.top < line.bottom - 1) faults.push(`"${words}" lies over "${other.words}"`);
      }
      boxes.push(line);
    }
    if (style.display !== 'inline' && e instanceof HTMLElement && e.scrollWidth > e.clientWidth + 2 && e.clientWidth > 0) faults.push(`wider than its place: ${words}`);
    const drawn = e instanceof HTMLElement && e.offsetHeight > 0 ? e.getBoundingClientRect().height / e.offsetHeight : 1;
    const ground = style.backgroundColor === 'rgba(0, 0, 0, 0)' ? null : style.backgroundColor;
    return {
      words, seconds: digits, title: e.classList.contains('title'), near: e.closest('.ask-phone, .set-up-open, .rehearsal') !== null,
      under: e.closest('.under, .cautions') !== null, tide: e.closest('.head, .stage') !== null, fontPx: em * drawn, colour: style.color, ground,
    };
  });
  // What is under the wall's own windows: a page that covers the doors covers their words.
  const covered = wall.querySelector('.set-up, .delay');
  const style = getComputedStyle(document.documentElement);
  const tones = Object.fromEntries(['plaster', 'plaster-lit', 'plaster-shade', 'plaster-under', 'clay', 'clay-wet', 'ink', 'ink-mid', 'ink-far'].map((t) => [t, style.getPropertyValue(`--${t}`).trim()]));
  return { texts: covered ? texts.filter((_, k) => covered.contains(leaves[k] as Element)) : texts, faults: [...new Set(faults)], tones };
}
