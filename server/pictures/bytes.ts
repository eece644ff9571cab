/** Owns reading numbers and names out of a file's bytes, and what a look at one may find. */
import type { PictureType } from '../../shared/movement/picture.ts';

/** A sentence for a person, where the file cannot be used. */
export type Looked = { readonly type: PictureType } | { readonly refused: string };

export const text = (b: Buffer, at: number, length: number): string => b.toString('latin1', at, Math.min(b.length, at + length));

/** A number with the first byte the largest; NaN beyond the end, which no comparison lets through. */
export function number(b: Buffer, at: number, bytes: number): number {
  if (at < 0 || at + bytes > b.length) return Number.NaN;
  let n = 0;
  for (let i = 0; i < bytes; i += 1) n = n * 256 + (b[at + i] ?? 0);
  return n;
}

export const broken = (what: string): Looked => ({ refused: `This ${what} is cut off or damaged. Save it again and choose it again.` });
