/** Owns how wide a picture may be: the width of its place, measured again when that changes. */
import { type RefObject, useLayoutEffect, useRef, useState } from 'react';

const USUAL = 900;

export function useWidth(): readonly [RefObject<HTMLDivElement | null>, number] {
  const place = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(USUAL);
  useLayoutEffect(() => {
    const element = place.current;
    if (!element) return;
    const look = () => setWidth(Math.max(240, element.clientWidth));
    look();
    const watch = new ResizeObserver(look);
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  return [place, width];
}
