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
  /** The hall is larger than the usual one: everything is drawn larger, and least needed words give way. */
  readonly far: boolean;
  /** Words that gave way, so that others have more room (gives-way.ts). */
  readonly without?: string;
}

const PictureContext = createContext<Picture>({ unit: 10.8, width: 177.8, height: 100, upright: false, far: false });
export const PictureProvider = PictureContext.Provider;
export const usePicture = (): Picture => useContext(PictureContext);

/** Some televisions cut the edge off: this share stays free on each side when it is asked for. */
const OVERSCAN = 0.05;

/** @param scale how much larger than in the usual hall (legibility.ts) */
export function useMeasuredPicture(overscan: boolean, scale = 1): Picture {
  const [picture, measure] = useState(() => pictureNow(overscan, scale));
  useLayoutEffect(() => {
    const look = () => measure(pictureNow(overscan, scale));
    look();
    window.addEventListener('resize', look);
    return () => window.removeEventListener('resize', look);
  }, [overscan, scale]);
  return picture;
}

function pictureNow(overscan: boolean, scale: number): Picture {
  const share = overscan ? 1 - 2 * OVERSCAN : 1;
  const [width, height] = [window.innerWidth * share, window.innerHeight * share];
  const unit = unitPx(width, height) * scale;
  return { unit, width: width / unit, height: height / unit, upright: height > width, far: scale > 1 };
}

/** What the element of a wall says of its picture, for the style sheets. */
export const wallProps = (picture: Picture, overscan: boolean) => ({
  className: 'wall',
  'data-upright': picture.upright || undefined,
  'data-far': picture.far || undefined,
  'data-overscan': overscan || undefined,
  style: { '--u': `${picture.unit}px` },
});
