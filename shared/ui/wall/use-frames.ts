/** Owns being called at every frame, and the shape of the clock that is asked then. */
import { useEffect, useRef } from 'react';
import type { ServerAt } from '../../time/units.ts';

/** The server's clock; null before it is known. In a replay, the instant that is looked at. */
export type Now = () => ServerAt | null;

/** Calls back at every frame while the page can be seen. */
export function useFrames(each: () => void): void {
  const latest = useRef(each);
  latest.current = each;
  useEffect(() => {
    let frame = requestAnimationFrame(function next() {
      latest.current();
      frame = requestAnimationFrame(next);
    });
    return () => cancelAnimationFrame(frame);
  }, []);
}
