/** Owns the time of all figures on the page: one loop for all, and only those that are in view hear of it. */
import { type RefObject, useEffect, useState } from 'react';

/** Enough to see a movement by, with a page full of them. */
const EACH_MS = 1_000 / 24;
const watchers = new Set<(atMs: number) => void>();
let handle = 0;
let toldMs = 0;

function turn(atMs: number): void {
  handle = watchers.size > 0 ? requestAnimationFrame(turn) : 0;
  if (atMs - toldMs < EACH_MS) return;
  toldMs = atMs;
  for (const tell of watchers) tell(atMs);
}
function watch(tell: (atMs: number) => void): () => void {
  watchers.add(tell);
  if (handle === 0) handle = requestAnimationFrame(turn);
  return () => { watchers.delete(tell); };
}

const unmoved = window.matchMedia('(prefers-reduced-motion: reduce)');

/** Null while the place is out of view or motion is unwanted: then a figure is still. */
export function useLoopMs(place: RefObject<HTMLElement | null>): number | null {
  const [atMs, setAt] = useState<number | null>(null);
  const [still, setStill] = useState(unmoved.matches);
  useEffect(() => {
    const changed = () => setStill(unmoved.matches);
    unmoved.addEventListener('change', changed);
    return () => unmoved.removeEventListener('change', changed);
  }, []);
  useEffect(() => {
    if (!place.current || still) return;
    let stop: (() => void) | null = null;
    const end = () => { stop?.(); stop = null; setAt(null); };
    const eye = new IntersectionObserver((seen) => {
      if (!seen.at(-1)?.isIntersecting) end();
      else stop ??= watch(setAt);
    });
    eye.observe(place.current);
    return () => { eye.disconnect(); end(); };
  }, [place, still]);
  return atMs;
}
