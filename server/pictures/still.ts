/**
 * Owns looking into still pictures: PNG (ISO/IEC 15948), JPEG (ISO/IEC 10918-1) and
 * WebP (RFC 9649). Each must hold together from its first byte to its last and say
 * how large it is. What moves is refused here: a still picture cannot be stopped.
 */
import { PICTURE_MOST_PX } from '../../shared/limits.ts';
import type { PictureType } from '../../shared/movement/picture.ts';
import { broken, type Looked, number, text } from './bytes.ts';

const moves: Looked = { refused: 'This picture moves by itself, and nobody could still it. Choose a picture that stands, or a clip: MP4 or WebM.' };

function sized(type: PictureType, name: string, width: number, height: number): Looked {
  if (!(width >= 1 && height >= 1)) return broken(name);
  if (width <= PICTURE_MOST_PX && height <= PICTURE_MOST_PX) return { type };
  return { refused: `This picture is ${width} by ${height} pixels; ${PICTURE_MOST_PX} is the most on either edge. Make it smaller and choose it again.` };
}

export function lookAtPng(b: Buffer): Looked {
  if (text(b, 12, 4) !== 'IHDR' || number(b, 8, 4) !== 13) return broken('PNG');
  let drawn = false;
  for (let at = 8; at < b.length;) {
    const length = number(b, at, 4);
    const name = text(b, at + 4, 4);
    const next = at + 12 + length;
    if (!(next <= b.length)) break;
    if (name === 'acTL') return moves;
    if (name === 'IDAT') drawn = true;
    if (name === 'IEND') return drawn && next === b.length ? sized('png', 'PNG', number(b, 16, 4), number(b, 20, 4)) : broken('PNG');
    at = next;
  }
  return broken('PNG');
}

/** Frame headers (SOF): all of C0 to CF but tables (C4, C8, CC). */
const isFrame = (marker: number): boolean => marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;

export function lookAtJpeg(b: Buffer): Looked {
  let size: readonly [number, number] | null = null;
  for (let at = 2; at < b.length;) {
    if (b[at] !== 0xff) return broken('JPEG');
    const marker = b[at + 1] ?? 0;
    if (marker === 0xff) { at += 1; continue; }
    const length = number(b, at + 2, 2);
    if (!(length >= 2 && at + 2 + length <= b.length)) return broken('JPEG');
    if (isFrame(marker)) size = [number(b, at + 7, 2), number(b, at + 5, 2)];
    // The scan: after it the end must come. Phones write more behind the end.
    if (marker === 0xda) return size && b.indexOf(Buffer.from([0xff, 0xd9]), at + 2 + length) > 0 ? sized('jpg', 'JPEG', ...size) : broken('JPEG');
    at += 2 + length;
  }
  return broken('JPEG');
}

const little = (b: Buffer, at: number, bytes: number): number => (at + bytes <= b.length ? b.readUIntLE(at, bytes) : Number.NaN);

export function lookAtWebp(b: Buffer): Looked {
  if (little(b, 4, 4) + 8 !== b.length) return broken('WebP');
  let size: readonly [number, number] | null = null;
  let drawn = false;
  for (let at = 12; at < b.length;) {
    const name = text(b, at, 4);
    const length = little(b, at + 4, 4);
    const body = at + 8;
    if (!(body + length <= b.length)) return broken('WebP');
    if (name === 'ANIM' || name === 'ANMF') return moves;
    if (name === 'VP8X') size = [little(b, body + 4, 3) + 1, little(b, body + 7, 3) + 1];
    if (name === 'VP8 ') {
      if (number(b, body + 3, 3) !== 0x9d012a) return broken('WebP');
      size ??= [little(b, body + 6, 2) & 0x3fff, little(b, body + 8, 2) & 0x3fff];
      drawn = true;
    }
    if (name === 'VP8L') {
      if (b[body] !== 0x2f) return broken('WebP');
      const bits = little(b, body + 1, 4);
      size ??= [(bits & 0x3fff) + 1, ((bits >>> 14) & 0x3fff) + 1];
      drawn = true;
    }
    at = body + length + (length % 2);
  }
  return size && drawn ? sized('webp', 'WebP', ...size) : broken('WebP');
}
