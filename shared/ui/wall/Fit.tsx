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

/** Sizes in pixels that were found before, with the fonts in place; some hundred texts are a long class. */
const known = new Map<string, number>();
const KNOWN_MOST = 500;
/** How wide and how set the place is, at the largest size. */
function keyOf(element: HTMLElement, px: number): string {
  element.style.fontSize = `${px}px`;
  return `${element.clientWidth} ${element.parentElement?.clientWidth ?? 0}`;
}

const STEP = 0.4;
/** Lines stand as close as their letters let them: those with marks over and under them need air. */
const leadingOf = (text: string): number => (joins(text) ? 1.26 : 1.04);
const joins = (text: string): boolean => /[\u0590-\u0fff]/.test(text);

export function Fit({ text, most, mostOnMore = most * 0.82, least = SMALLEST_TEXT, lines, className }: FitProps) {
  const { unit, width, without } = usePicture();
  const leading = leadingOf(text);
  const place = useRef<HTMLParagraphElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the text and the unit change what is measured
  useLayoutEffect(() => {
    const element = place.current;
    if (!element) return;
    const size = () => {
      // Each try costs a layout of the whole page; a class says the same few words again and again.
      const key = [keyOf(element, most * unit), text, className, most, mostOnMore, least, lines, unit].join('\n');
      const before = known.get(key);
      if (before !== undefined) {
        element.style.fontSize = `${before}px`;
        return;
      }
      let at = most;
      let on = 1;
      for (; at > least; at -= STEP) {
        on = linesAt(element, at, unit, leading);
        if (on === 1 || (on <= lines && at <= mostOnMore)) break;
      }
      if (at <= least) linesAt(element, least, unit, leading);
      if (document.fonts.status !== 'loaded') return;
      if (known.size >= KNOWN_MOST) known.clear();
      known.set(key, Math.max(at, least) * unit);
    };
    size();
    if (document.fonts.status === 'loaded') return;
    let here = true;
    document.fonts.ready.then(() => here && size());
    return () => {
      here = false;
    };
  }, [text, className, most, mostOnMore, least, lines, unit, width, without]);
  // Letters that join keep their own distance.
  const set = joins(text) ? { lineHeight: leading, letterSpacing: 'normal' } : { lineHeight: leading };
  return <p ref={place} className={className} dir="auto" style={set}>{text}</p>;
}

/** Sets the size and says how many lines that makes; infinitely many where a word sticks out. */
function linesAt(element: HTMLElement, size: number, unit: number, leading: number): number {
  element.style.fontSize = `${size * unit}px`;
  if (element.scrollWidth > element.clientWidth + 1) return Number.POSITIVE_INFINITY;
  return Math.round(element.scrollHeight / (size * unit * leading));
}
