/** Owns the WAV file: one channel, 16 bits. Every browser plays it, and it begins where it says. */

const HEADER = 44;

export function toWav(samples: Float64Array, rate: number): Buffer {
  const out = Buffer.alloc(HEADER + samples.length * 2);
  out.write('RIFF', 0, 'ascii');
  out.writeUInt32LE(out.length - 8, 4);
  out.write('WAVEfmt ', 8, 'ascii');
  out.writeUInt32LE(16, 16);
  out.writeUInt16LE(1, 20);
  out.writeUInt16LE(1, 22);
  out.writeUInt32LE(rate, 24);
  out.writeUInt32LE(rate * 2, 28);
  out.writeUInt16LE(2, 32);
  out.writeUInt16LE(16, 34);
  out.write('data', 36, 'ascii');
  out.writeUInt32LE(samples.length * 2, 40);
  for (const [i, s] of samples.entries()) out.writeInt16LE(Math.round(Math.max(-1, Math.min(1, s)) * 32_767), HEADER + i * 2);
  return out;
}

/** Reads what `toWav` wrote. */
export function fromWav(file: Buffer): { readonly samples: Float64Array; readonly rate: number } {
  const count = file.readUInt32LE(40) / 2;
  if (file.toString('ascii', 0, 4) !== 'RIFF' || file.readUInt16LE(22) !== 1 || file.readUInt16LE(34) !== 16) {
    throw new Error('not a WAV file of one channel with 16 bits; make the sounds again with `npx tsx media/sounds/main.ts`');
  }
  const samples = Float64Array.from({ length: count }, (_, i) => file.readInt16LE(HEADER + i * 2) / 32_767);
  return { samples, rate: file.readUInt32LE(24) };
}
