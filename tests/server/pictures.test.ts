/** Holds what may be kept as a picture of a movement: real files, cut, changed and disguised. */
import { crc32, deflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { look } from '../../server/pictures/look.ts';
import { CLIP_MOST_BYTES, PICTURE_MOST_BYTES, PICTURE_MOST_PX } from '../../shared/limits.ts';
import { jpeg, mp4, webm, webp } from './small-files.ts';

function chunk(name: string, body: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(name, 'latin1'), body]);
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(body.length);
  sum.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, sum]);
}
function png(width = 2, height = 2, ...between: readonly Buffer[]): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 0], 8);
  return Buffer.concat([
    Buffer.from('89504e470d0a1a0a', 'hex'), chunk('IHDR', head), ...between, chunk('IDAT', deflateSync(Buffer.alloc(6))), chunk('IEND', Buffer.alloc(0)),
  ]);
}
const files = { png: png(), jpg: jpeg, webp, mp4, webm } as const;
const refusal = (b: Buffer): string => {
  const looked = look(b);
  return 'refused' in looked ? looked.refused : looked.type;
};
/** The same file with other bytes where some stood. */
const changed = (b: Buffer, from: string, to: string | Buffer): Buffer => {
  const at = b.indexOf(from, 0, 'latin1');
  expect(at, from).toBeGreaterThanOrEqual(0);
  const copy = Buffer.from(b);
  copy.set(typeof to === 'string' ? Buffer.from(to, 'latin1') : to, at);
  return copy;
};

describe('what is in a file', () => {
  it('M30 five kinds are known by what is in them', () => {
    for (const [type, file] of Object.entries(files)) expect(look(file)).toEqual({ type });
  });

  it('M30 a page, a drawing with scripts, a program, text and nothing are refused, whatever they are called', () => {
    for (const text of ['<!doctype html><script>alert(1)</script>', '<svg xmlns="http://www.w3.org/2000/svg"/>', '#!/bin/sh\n', 'GIF89a', '%PDF-1.7', '\x89PNG', 'RIFF\0\0\0\0WAVE']) {
      expect(refusal(Buffer.from(text, 'latin1')), text).toBe('This file is none that a screen can show. Choose a picture (JPEG, PNG or WebP) or a short clip (MP4 or WebM).');
    }
    expect(refusal(Buffer.alloc(0))).toBe('The file is empty. Choose another.');
  });

  it('M30 a file that is cut off anywhere is refused', () => {
    for (const [type, file] of Object.entries(files)) {
      for (let length = 0; length < file.length; length += 1) {
        // A recorder's index stands last; without it the clip is whole all the same.
        if (file === mp4 && length === mp4.indexOf('mfra') - 4) continue;
        const looked = look(file.subarray(0, length));
        expect('refused' in looked, `${type} after ${length} of ${file.length} bytes`).toBe(true);
      }
    }
  });

  it('M30 what hides behind the end of a file is refused; a JPEG may have what phones write there', () => {
    const page = Buffer.from('<script>alert(1)</script>');
    for (const [type, file] of Object.entries(files)) expect('refused' in look(Buffer.concat([file, page])), type).toBe(type !== 'jpg');
  });

  it('M30 no bytes at all make it stumble', () => {
    let seed = 1;
    const chance = (below: number) => { seed = (seed * 48_271) % 2_147_483_647; return seed % below; };
    for (const file of Object.values(files)) {
      for (let i = 0; i < 2_000; i += 1) {
        const copy = Buffer.from(file);
        for (let k = 0; k <= chance(4); k += 1) copy[chance(copy.length)] = chance(256);
        const looked = look(copy);
        if ('refused' in looked) expect(looked.refused).toMatch(/^[A-Z].*\.$/s);
      }
    }
  });

  it('M30 what is too large in bytes or in pixels is refused with the bound', () => {
    const filler = (bytes: number) => png(2, 2, chunk('teXt', Buffer.alloc(bytes)));
    expect(look(filler(PICTURE_MOST_BYTES - 1_000))).toEqual({ type: 'png' });
    expect(refusal(filler(PICTURE_MOST_BYTES))).toBe('The file is too large: 2 MB is the most for a picture, 8 MB for a clip. Make it smaller and choose it again.');
    expect(refusal(Buffer.concat([mp4, Buffer.alloc(CLIP_MOST_BYTES)]))).toContain('8 MB for a clip');
    expect(look(png(PICTURE_MOST_PX, PICTURE_MOST_PX))).toEqual({ type: 'png' });
    expect(refusal(png(PICTURE_MOST_PX + 1, 10))).toContain('4097 by 10 pixels; 4096 is the most');
    expect(refusal(png(0, 10))).toContain('damaged');
  });

  it('M30 a picture that moves by itself is refused, for nobody could still it', () => {
    expect(refusal(png(2, 2, chunk('acTL', Buffer.alloc(8))))).toContain('moves by itself');
    expect(refusal(changed(webp, 'ICCP', 'ANIM'))).toContain('moves by itself');
  });

  it('M30 clips that not every screen can show, without a picture, or too long, are told what to do', () => {
    expect(refusal(changed(mp4, 'avc1\0\0\0\0\0\0\0\x01', 'hvc1'))).toContain('coded as "hvc1"');
    expect(refusal(changed(webm, 'V_VP8', 'V_XX8'))).toContain('coded as "V_XX8"');
    expect(refusal(changed(mp4, 'vide', 'soun'))).toBe('There is no picture in this clip. Choose another.');
    expect(refusal(changed(mp4, 'ftypisom', 'ftypqt  '))).toContain('QuickTime');
    expect(refusal(changed(mp4, 'ftypisom', 'ftypheic'))).toContain('Save it as a JPEG');
    expect(refusal(changed(webm, 'webm', 'matr'))).toContain('no WebM');
    const long = Buffer.from(mp4);
    const head = long.indexOf('mvhd') + 4;
    expect(long[head], 'the version with long numbers').toBe(1);
    const seconds = (n: number) => long.writeBigUInt64BE(BigInt(long.readUInt32BE(head + 20) * n), head + 24);
    seconds(30);
    expect(look(long)).toEqual({ type: 'mp4' });
    seconds(31);
    expect(refusal(long)).toBe('This clip lasts 31 seconds; 30 is the most. Cut it to one or two repetitions and choose it again.');
  });
});
