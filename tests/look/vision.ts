/** Owns how eyes see: angles, contrast, and the colours of people who lack a kind of cone. Pure. */

/** Minutes of arc that a height subtends at a distance, both in the same unit. */
export const arcMinutes = (height: number, distance: number): number => (2 * Math.atan(height / 2 / distance) * 180 * 60) / Math.PI;

export type Rgb = readonly [number, number, number];

/** From "#rrggbb" or "rgb(r, g, b)", 0 to 255. */
export function rgb(said: string): Rgb {
  const hex = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(said.trim());
  const parts = hex ? hex.slice(1).map((x) => Number.parseInt(x, 16)) : [...said.matchAll(/[\d.]+/g)].slice(0, 3).map((m) => Number(m[0]));
  const [r, g, b] = parts;
  if (r === undefined || g === undefined || b === undefined) throw new Error(`no colour: ${said}`);
  return [r, g, b];
}

/**
 * Machado, Oliveira, Fernandes: A physiologically-based model for simulation of color vision
 * deficiency (IEEE TVCG 2009), table for severity 1.0; on linear RGB.
 */
export const eyes = {
  all: [[1, 0, 0], [0, 1, 0], [0, 0, 1]],
  protanopia: [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
  deuteranopia: [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.01182, 0.04294, 0.968881]],
  tritanopia: [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.3039]],
} as const;
export type Eyes = keyof typeof eyes;
export const allEyes = Object.keys(eyes) as Eyes[];

/** WCAG 2.2: relative luminance, of what these eyes make of a colour. */
export function luminance(colour: Rgb, as: Eyes = 'all'): number {
  const [r, g, b] = colour.map((c) => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4)) as [number, number, number];
  const [x, y, z] = eyes[as].map((row) => Math.min(1, Math.max(0, row[0] * r + row[1] * g + row[2] * b))) as [number, number, number];
  return 0.2126 * x + 0.7152 * y + 0.0722 * z;
}

export function contrast(a: Rgb, b: Rgb, as: Eyes = 'all'): number {
  const [x, y] = [luminance(a, as), luminance(b, as)];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}
