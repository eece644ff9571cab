/** Owns the size of the picture in units, the size of one unit (`--u`), and whether it stands upright. */
import { createContext, useContext, useLayoutEffect, useState } from 'react';
import { unitPx } from './legibility.ts';

export interface Picture {
  /** Pixels of one unit. */
  readonly unit: number;
  /** Units. */
  readonly width: number;
  readonly height: number;
  readonly upright: boolean;
}

const PictureContext = createContext<Picture>({ unit: 10.8, width: 177.8, height: 100, upright: false });
export const PictureProvider = PictureContext.Provider;
export const usePicture = (): Picture => useContext(PictureContext);

/** Some televisions cut the edge off: this share stays free on each side when it is asked for. */
const OVERSCAN = 0.05;

export function useMeasuredPicture(overscan: boolean): Picture {
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
  const unit = unitPx(width, height);
  return { unit, width: width / unit, height: height / unit, upright: height > width };
}
