/** Owns being called at every frame, one loop for all who are, and the shape of the clock that is asked then. */
import { useEffect, useRef } from 'react';
import type { ServerAt } from '../../time/units.ts';

/** The server's clock; null before it is known. In a replay, the instant that is looked at. */
export type Now = () => ServerAt | null;

const calls = new Set<() => void>();
let frame = 0;

function next(): void {
  frame = requestAnimationFrame(next);
  for (const call of calls) call();
}

/** Calls back at every frame while the page can be seen. */
export function useFrames(each: () => void): void {
  const latest = useRef(each);
  latest.current = each;
  useEffect(() => {
    const call = () => latest.current();
    calls.add(call);
    if (calls.size === 1) frame = requestAnimationFrame(next);
    return () => {
      calls.delete(call);
      if (calls.size === 0) cancelAnimationFrame(frame);
    };
  }, []);
}
