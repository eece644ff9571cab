/** Owns the size of one unit on this screen (`--u`) and whether the picture stands upright. */
import { useLayoutEffect, useState } from 'react';
import { unitPx } from './legibility.ts';

export interface Picture {
  readonly unit: number;
  readonly upright: boolean;
}

/** Some televisions cut the edge off: this share stays free on each side when it is asked for. */
const OVERSCAN = 0.05;

export function usePicture(overscan: boolean): Picture {
  const [picture, measure] = useState(() => pictureNow(overscan));
  useLayoutEffect(() => {
    const look = () => measure(pictureNow(overscan));
    look();
    window.addEventListener('resize', look);
    return () => window.removeEventListener('resize', look);
  }, [overscan]);
  return picture;
}

function pictureNow(overscan: boolean): Picture {
  const share = overscan ? 1 - 2 * OVERSCAN : 1;
  const [width, height] = [window.innerWidth * share, window.innerHeight * share];
  return { unit: unitPx(width, height), upright: height > width };
}
