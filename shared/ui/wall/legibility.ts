/**
 * Owns how large text must be for the back row: visual angle to millimetres to a
 * share of the picture. Everything on the screen is sized in units of a hundredth
 * of the height of a 16:9 picture with the same diagonal, so that a size means
 * the same on every shape of screen.
 *
 * Height = 6.283 x distance x minutes / 21600 (NUREG-0700 rev. 2, 1.3.1-4).
 */
export interface Hall {
  readonly diagonalInch: number;
  readonly farthestMatMm: number;
}

/** The hall that the sizes in class.css are made for. */
export const usualHall: Hall = { diagonalInch: 65, farthestMatMm: 6_000 };

/** Preferred for reading in ISO 9241-303 (its minimum is 16). */
export const TEXT_ARC_MIN = 22;
/** Two degrees: our own figure, for reading while upside down or moving. */
export const SECONDS_ARC_MIN = 120;

/** Capitals of Atkinson Hyperlegible Next are this share of the font size (sCapHeight of its OS/2 table over unitsPerEm). */
export const CAPITALS = 0.668;

/** Sizes in units; class.css uses the same. */
export const SMALLEST_TEXT = 7.2;
export const SECONDS_TEXT = 39;

const MM_PER_INCH = 25.4;
const heightOf16To9 = (diagonal: number): number => (diagonal * 9) / Math.hypot(16, 9);

/** Millimetres that subtend so many minutes of arc. */
export const arcMm = (distanceMm: number, arcMin: number): number => (distanceMm * arcMin * 6.283) / 21_600;

/** Units of font size whose capitals subtend so many minutes of arc on the farthest mat. */
export const fontUnits = (hall: Hall, arcMin: number): number =>
  ((arcMm(hall.farthestMatMm, arcMin) / heightOf16To9(hall.diagonalInch * MM_PER_INCH)) * 100) / CAPITALS;

/** Beyond this the name of a movement and its seconds no longer fit on one screen beside each other. */
export const SCALE_MOST = 1.5;

/** Angles are taken as straight lines above, and pixels are whole: so much more makes up for both. */
const SURE = 1.003;

/** How much larger than in the usual hall everything is drawn, unbounded: a studio may ask for more than there is. */
export const scaleAsked = (hall: Hall): number => {
  const needed = Math.max(fontUnits(hall, TEXT_ARC_MIN) / SMALLEST_TEXT, fontUnits(hall, SECONDS_ARC_MIN) / SECONDS_TEXT);
  return needed > 1 ? needed * SURE : 1;
};
export const scaleFor = (hall: Hall): number => Math.min(SCALE_MOST, scaleAsked(hall));

/** Millimetres from which text of so many units, drawn so much larger, has so many minutes of arc in its capitals. */
export const readableMm = (diagonalInch: number, scale: number, units: number, arcMin: number): number =>
  (((units * scale * CAPITALS) / 100) * heightOf16To9(diagonalInch * MM_PER_INCH) * 21_600) / (6.283 * arcMin);

/** Pixels of one unit in a picture of this many pixels. */
export const unitPx = (width: number, height: number): number => heightOf16To9(Math.hypot(width, height)) / 100;
