/** Owns drawing at each frame without React: only the smallest part repaints, and only where something moves. */
import { useEffect, useRef } from 'react';

export function useFrames(draw: () => void, on: boolean): void {
  const latest = useRef(draw);
  latest.current = draw;
  useEffect(() => {
    if (!on) return;
    let frame = 0;
    const step = () => {
      latest.current();
      frame = requestAnimationFrame(step);
    };
    step();
    return () => cancelAnimationFrame(frame);
  }, [on]);
}
