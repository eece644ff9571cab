/**
 * Owns text that must fit its place: as large as it may be, on as few lines as it
 * can be, never smaller than the back row reads. What is still too long at the
 * smallest size takes more lines; nothing is cut off.
 */
import { useLayoutEffect, useRef } from 'react';
import { SMALLEST_TEXT } from './legibility.ts';
import { usePicture } from './picture.ts';

interface FitProps {
  readonly text: string;
  /** Units of font size. */
  readonly most: number;
  readonly least?: number;
  readonly lines: number;
  /** Units of font size where it takes more than one line. */
  readonly mostOnMore?: number;
  readonly className?: string;
}

const STEP = 0.4;
const LEADING = 1.04;

export function Fit({ text, most, mostOnMore = most * 0.82, least = SMALLEST_TEXT, lines, className }: FitProps) {
  const { unit, width } = usePicture();
  const place = useRef<HTMLParagraphElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the text and the unit change what is measured
  useLayoutEffect(() => {
    const element = place.current;
    if (!element) return;
    const size = () => {
      let at = most;
      let on = 1;
      for (; at > least; at -= STEP) {
        on = linesAt(element, at, unit);
        if (on === 1 || (on <= lines && at <= mostOnMore)) break;
      }
      if (at <= least) linesAt(element, least, unit);
    };
    size();
    let here = true;
    document.fonts.ready.then(() => here && size());
    return () => {
      here = false;
    };
  }, [text, most, mostOnMore, least, lines, unit, width]);
  return <p ref={place} className={className} dir="auto" style={{ lineHeight: LEADING }}>{text}</p>;
}

/** Sets the size and says how many lines that makes; infinitely many where a word sticks out. */
function linesAt(element: HTMLElement, size: number, unit: number): number {
  element.style.fontSize = `${size * unit}px`;
  if (element.scrollWidth > element.clientWidth + 1) return Number.POSITIVE_INFINITY;
  return Math.round(element.scrollHeight / (size * unit * LEADING));
}
