/**
 * Owns what a sent file is, by what is in it: neither its name nor what its sender
 * calls it counts. Five kinds can be used; every other gets a sentence.
 */
import { CLIP_MOST_BYTES, PICTURE_MOST_BYTES } from '../../shared/limits.ts';
import { pictureTypes } from '../../shared/movement/picture.ts';
import { type Looked, number, text } from './bytes.ts';
import { lookAtMp4, lookAtWebm } from './clip.ts';
import { lookAtJpeg, lookAtPng, lookAtWebp } from './still.ts';

function lookInto(b: Buffer): Looked {
  if (b.length === 0) return { refused: 'The file is empty. Choose another.' };
  if (text(b, 0, 8) === '\x89PNG\r\n\x1a\n') return lookAtPng(b);
  if (number(b, 0, 3) === 0xffd8ff) return lookAtJpeg(b);
  if (text(b, 0, 4) === 'RIFF' && text(b, 8, 4) === 'WEBP') return lookAtWebp(b);
  if (text(b, 4, 4) === 'ftyp') return lookAtMp4(b);
  if (number(b, 0, 4) === 0x1a45dfa3) return lookAtWebm(b);
  return { refused: 'This file is none that a screen can show. Choose a picture (JPEG, PNG or WebP) or a short clip (MP4 or WebM).' };
}

const megabytes = (bytes: number): number => bytes / 1_048_576;
export const tooLarge = `The file is too large: ${megabytes(PICTURE_MOST_BYTES)} MB is the most for a picture, ${megabytes(CLIP_MOST_BYTES)} MB for a clip. Make it smaller and choose it again.`;

export function look(b: Buffer): Looked {
  if (b.length > CLIP_MOST_BYTES) return { refused: tooLarge };
  const looked = lookInto(b);
  return 'type' in looked && pictureTypes[looked.type].kind === 'picture' && b.length > PICTURE_MOST_BYTES ? { refused: tooLarge } : looked;
}
