/** Owns making small files of one tone for tests, and finding how loud a tone is in a recording. */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { toWav } from '../../media/sounds/wav.ts';

const RATE = 24_000;

/** A third of full scale: loud enough for every coder, and far from its limits. */
export function toneFile(path: string, hz: number, seconds: number): void {
  writeFileSync(path, toWav(Float64Array.from({ length: RATE * seconds }, (_, i) => 0.33 * Math.sin((2 * Math.PI * hz * i) / RATE)), RATE));
}

/** Makes the same tone in the format that the name says; the sentence says why where that is not possible here. */
export function codedTone(path: string, hz: number, seconds: number): string | null {
  const made = spawnSync('ffmpeg', ['-v', 'error', '-y', '-f', 'lavfi', '-i', `sine=frequency=${hz}:duration=${seconds}:sample_rate=48000`, '-af', 'volume=2.6', path], { encoding: 'utf8' });
  if (made.error) return 'ffmpeg is not installed here.';
  return made.status === 0 ? null : `ffmpeg cannot write it: ${made.stderr.trim().split('\n')[0] ?? ''}`;
}

/** The amplitude of one tone in each window of a recording (Goertzel's algorithm, 1958), 1 at full scale. */
export function amplitudes(x: Float64Array, rate: number, hz: number, windowMs: number): readonly number[] {
  const n = Math.round((windowMs * rate) / 1_000);
  const k = 2 * Math.cos((2 * Math.PI * hz) / rate);
  return Array.from({ length: Math.floor(x.length / n) }, (_, w) => {
    let [a, b] = [0, 0];
    for (let i = w * n; i < (w + 1) * n; i += 1) [a, b] = [(x[i] ?? 0) + k * a - b, a];
    return (2 / n) * Math.sqrt(Math.max(0, a * a + b * b - k * a * b));
  });
}
