/**
 * Owns what can be read from where in a hall, and what heads hide: plain geometry, in
 * millimetres, with the screen at 0 and the floor at 0. Leaves alone how it is told.
 */
import { readableMm, scaleAsked, scaleFor, SECONDS_ARC_MIN, SECONDS_TEXT, SMALLEST_TEXT, TEXT_ARC_MIN } from '../../../shared/ui/wall/legibility.ts';
import type { Own } from './own.ts';

/** Words and addresses that are read before a class, by whoever stands near; units of doors.css. */
const NEAR_TEXT = 4.2;
const MM_PER_INCH = 25.4;

/** Eyes and heads of grown people: round figures between those of small and tall ones (from memory, no table at hand). */
export const EYES_STANDING_MM = 1_550;
export const EYES_SITTING_MM = 750;
export const HEAD_MM = 1_750;
/** The front row stands so far from the screen; common practice, no source. */
export const FRONT_ROW_MM = 2_000;

export interface Reach {
  /** How far the words and the seconds of a class, and the small print at the doors, can be read. */
  readonly wordsMm: number;
  readonly secondsMm: number;
  readonly smallMm: number;
  /** The farthest mat is farther than the words reach, however few there are. */
  readonly tooFar: boolean;
  /** Least needed words give way to larger ones. */
  readonly fewer: boolean;
  /** Share of the picture's height, from below, behind a head of the front row: for whoever stands or sits on the farthest mat. */
  readonly hiddenStanding: number;
  readonly hiddenSitting: number;
}

export const pictureHeightMm = (diagonalInch: number): number => (diagonalInch * MM_PER_INCH * 9) / Math.hypot(16, 9);

/** The height on the wall that a straight line from the eyes over the head meets: similar triangles. */
export const overHeadMm = (eyesMm: number, farMm: number): number =>
  farMm <= FRONT_ROW_MM ? 0 : eyesMm + ((HEAD_MM - eyesMm) * farMm) / (farMm - FRONT_ROW_MM);

export function reachOf(own: Own): Reach {
  const scale = scaleFor(own);
  const hidden = (eyesMm: number): number =>
    Math.min(1, Math.max(0, (overHeadMm(eyesMm, own.farthestMatMm) - own.lowerEdgeMm) / pictureHeightMm(own.diagonalInch)));
  return {
    wordsMm: readableMm(own.diagonalInch, scale, SMALLEST_TEXT, TEXT_ARC_MIN),
    secondsMm: readableMm(own.diagonalInch, scale, SECONDS_TEXT, SECONDS_ARC_MIN),
    smallMm: readableMm(own.diagonalInch, 1, NEAR_TEXT, TEXT_ARC_MIN),
    tooFar: scaleAsked(own) > scale,
    fewer: scale > 1,
    hiddenStanding: hidden(EYES_STANDING_MM),
    hiddenSitting: hidden(EYES_SITTING_MM),
  };
}
