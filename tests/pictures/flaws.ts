/** Owns what is measured on a page beside looking at it; runs inside the page and so refers to nothing outside itself. */
export function flaws(): string[] {
  const found: string[] = [];
  const scope: ParentNode = document.querySelector('dialog[open]') ?? document;
  const seen = (e: Element): boolean => e.getClientRects().length > 0 && getComputedStyle(e).visibility !== 'hidden';
  const said = (e: Element): string => `"${(e.textContent ?? '').trim().slice(0, 40)}" (${e.className})`;
  if (document.documentElement.scrollWidth > window.innerWidth) found.push(`the page is ${document.documentElement.scrollWidth} px wide`);
  const targets = [...scope.querySelectorAll('button, input, textarea, a.control')].filter(seen);
  for (const t of targets) {
    const box = t.getBoundingClientRect();
    if (box.width < 44 || box.height < 44) {
      if (!t.closest('label')) found.push(`target ${said(t)} is ${Math.round(box.width)} x ${Math.round(box.height)}`);
    }
  }
  targets.forEach((a, i) => {
    for (const b of targets.slice(i + 1)) {
      // What stays at the foot while the page goes on under it, and a sentence that covers the line for a moment.
      if (a.closest('.foot, .sentence') || b.closest('.foot, .sentence') || a.contains(b) || b.contains(a)) continue;
      const [p, q] = [a.getBoundingClientRect(), b.getBoundingClientRect()];
      if (p.left < q.right - 1 && q.left < p.right - 1 && p.top < q.bottom - 1 && q.top < p.bottom - 1) found.push(`${said(a)} lies on ${said(b)}`);
    }
  });
  for (const e of [...scope.querySelectorAll('button, p, h1, h2, h3, li, span, b, legend, td')].filter(seen)) {
    const style = getComputedStyle(e);
    if (style.display !== 'inline' && e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && !e.closest('.names')) found.push(`text ${said(e)} is wider than its place`);
    if (e instanceof HTMLButtonElement && e.scrollHeight > e.clientHeight + 1) found.push(`text ${said(e)} is taller than its place`);
  }
  const main = document.querySelector('main.class');
  if (main) {
    for (const part of main.children) {
      const box = part.getBoundingClientRect();
      if (box.bottom > window.innerHeight + 1 || box.right > window.innerWidth + 1) found.push(`${part.className} leaves the page (${Math.round(box.bottom)} of ${window.innerHeight})`);
      if (part.scrollHeight > part.clientHeight + 1 && !/^(picture|floor-strip|sheet)$/.test(part.className)) found.push(`${part.className} holds more than it shows`);
    }
    const about = main.querySelector('.about');
    if (about && about.clientHeight < 60 && about.textContent !== '') found.push(`the words have ${about.clientHeight} px only`);
    for (const e of [...main.querySelectorAll('p, b, button, span, h1, h2, li, small')].filter(seen)) {
      const size = Number.parseFloat(getComputedStyle(e).fontSize);
      if (size < 18) found.push(`${said(e)} is ${size} px`);
    }
  }
  return found;
}
