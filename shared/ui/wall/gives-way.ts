/**
 * Owns which words of a class give way where not all of them have room: the least needed
 * first. The movement, its limb and the seconds never do. It looks at the boxes as they are
 * drawn, so it holds for every language, name, shape of screen and hall.
 */
import { useLayoutEffect, useRef, useState } from 'react';

/** From the least needed on; each with the elements that it is. */
const parts = [
  ['ends', '.ends'], ['option-figure', '.option-head svg'], ['corner', '.corner'], ['option', '.option p'], ['cues', '.cues li:last-child'], ['next', '.next-words p'],
] as const;
type Part = (typeof parts)[number][0];
const never = ['.title', '.count > *', '.stations .number', '.stations .name'] as const;

/** Lines of text are a little higher than their letters: units that may lie over each other. */
const AIR = 0.9;

interface Placed {
  readonly rank: number;
  readonly part: Part | null;
  readonly box: DOMRect;
}

const seen = (e: Element): boolean => e.getClientRects().length > 0 && getComputedStyle(e).visibility !== 'hidden' && (e.textContent !== '' || e instanceof SVGElement);

function placed(root: Element): Placed[] {
  const of = (selector: string, rank: number, part: Part | null): Placed[] =>
    [...root.querySelectorAll(selector)].filter(seen).map((e) => ({ rank, part, box: e.getBoundingClientRect() }));
  return [...parts.flatMap(([part, selector], k) => of(selector, k, part)), ...never.flatMap((selector) => of(selector, parts.length, null))];
}

/** The part that has to go next; null where all have room, or nothing is left that could go. */
export function nextToGo(root: Element, unit: number, gone: readonly Part[]): Part | null {
  const all = placed(root);
  const air = AIR * unit;
  const wall = root.getBoundingClientRect();
  const ground = root.querySelector('.ground')?.getBoundingClientRect().top ?? wall.bottom;
  const left = parts.map(([part]) => part).filter((part) => !gone.includes(part) && all.some((p) => p.part === part));
  for (const a of all) {
    const inStage = a.part !== 'ends' && a.part !== 'next';
    const bottom = inStage ? ground : wall.bottom;
    const sideways = a.box.left < wall.left - 1 || a.box.right > wall.right + 1;
    if (a.box.top < wall.top - air || a.box.bottom > bottom + air || (sideways && a.part !== null)) {
      // What never goes gets its room from what does: beside the title, else from under the floor.
      const gives = a.part ?? (['corner', 'next'] as const).find((part) => left.includes(part)) ?? null;
      if (gives !== null) return gives;
    }
    for (const b of all) {
      // The option's small body stands close by its word.
      const together = (b.part === a.part && b.part !== null) || (a.part === 'option' && b.part === 'option-figure');
      if (b === a || together || b.rank > a.rank) continue;
      const over = a.box.left < b.box.right - air && b.box.left < a.box.right - air && a.box.top < b.box.bottom - air && b.box.top < a.box.bottom - air;
      if (over && b.part !== null) return b.part;
    }
  }
  return null;
}

/**
 * @param key everything that changes which words there are and how much room they have
 * @returns the element to look at, and the parts that gave way, for `data-without`
 */
export function useGivingWay(key: string, unit: number) {
  const root = useRef<HTMLDivElement>(null);
  const [gone, setGone] = useState<{ readonly key: string; readonly parts: readonly Part[] }>({ key, parts: [] });
  const now = gone.key === key ? gone.parts : [];
  const count = now.length;
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked at when the words change, and after each that went
  useLayoutEffect(() => {
    const look = () => {
      const part = root.current && nextToGo(root.current, unit, now);
      if (part && !now.includes(part)) setGone({ key, parts: [...now, part] });
    };
    // Words in a font that is still to come have other sizes: nothing gives way to those.
    if (document.fonts.status === 'loaded') return look();
    let here = true;
    document.fonts.ready.then(() => requestAnimationFrame(() => here && look()));
    return () => {
      here = false;
    };
  }, [key, count, unit]);
  return { root, without: now.join(' ') };
}
