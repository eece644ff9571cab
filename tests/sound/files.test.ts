/** Holds the sound files as they are: loud alike, no clicks, in the range that older ears hear, told apart. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loudest, padded, truePeak } from '../../media/sounds/loudness.ts';
import { makeSprites } from '../../media/sounds/make.ts';
import { contourOf, rhythmOf, score, type Sound, sounds } from '../../media/sounds/score.ts';
import { timbres } from '../../media/sounds/timbre.ts';
import { fromWav, toWav } from '../../media/sounds/wav.ts';
import { signalKinds } from '../../shared/view/signal-kinds.ts';
import { powerIn } from './spectrum.ts';

const folder = new URL('../../media/sounds/', import.meta.url);
const sprite = JSON.parse(readFileSync(new URL('sprite.json', folder), 'utf8')) as { files: string[]; signals: Record<string, [number, number]> };
const rooms = sprite.files.map((name) => fromWav(readFileSync(new URL(name, folder))));

/** One signal of one room, cut out of the real file. */
function cut(room: number, sound: Sound): Float64Array {
  const { samples, rate } = rooms[room] as (typeof rooms)[number];
  const [atMs, lengthMs] = sprite.signals[sound] as [number, number];
  return samples.slice((atMs * rate) / 1_000, ((atMs + lengthMs) * rate) / 1_000);
}
const each = (look: (x: Float64Array, rate: number, name: string) => void) =>
  rooms.forEach(({ rate }, room) => { for (const sound of sounds) look(cut(room, sound), rate, `room ${room}, ${sound}`); });

const hasFfmpeg = spawnSync('ffmpeg', ['-version']).status === 0;

describe('the sound files', () => {
  it('C17 every signal has a sound in every file, in its place, with silence around it', () => {
    expect(Object.keys(sprite.signals).sort()).toEqual([...signalKinds].sort());
    for (const { samples, rate } of rooms) {
      const sounding = new Uint8Array(samples.length);
      for (const [atMs, lengthMs] of Object.values(sprite.signals)) sounding.fill(1, (atMs * rate) / 1_000, ((atMs + lengthMs) * rate) / 1_000);
      expect(samples.some((x, i) => sounding[i] === 0 && x !== 0)).toBe(false);
    }
    const spans = Object.values(sprite.signals).sort((a, b) => a[0] - b[0]);
    spans.slice(1).forEach(([at], i) => { expect(at - (spans[i]?.[0] ?? 0) - (spans[i]?.[1] ?? 0)).toBeGreaterThanOrEqual(100); });
  });

  it('C13 all signals of all rooms are within 1 LU of each other, by our own meter', () => {
    const levels: number[] = [];
    each((x, rate, name) => {
      levels.push(loudest(x, rate));
      expect(truePeak(padded(x, rate)), name).toBeLessThanOrEqual(-1);
    });
    expect(Math.max(...levels) - Math.min(...levels)).toBeLessThan(1);
  });

  it(`C13 ${hasFfmpeg ? 'ffmpeg says the same of loudness and peak' : 'ffmpeg is not installed: no outside judge, own meter only'}`, () => {
    if (!hasFfmpeg) return;
    const dir = mkdtempSync(join(tmpdir(), 'hallclock-sound-'));
    const levels: number[] = [];
    each((x, rate, name) => {
      const file = join(dir, 'one.wav');
      writeFileSync(file, toWav(padded(x, rate), rate));
      const said = spawnSync('ffmpeg', ['-hide_banner', '-nostats', '-i', file, '-af', 'ebur128=peak=true:framelog=info', '-f', 'null', '-'], { encoding: 'utf8' }).stderr;
      const momentary = [...said.matchAll(/ M:\s*(-?[\d.]+)/g)].map((m) => Number(m[1]));
      const level = Math.max(...momentary);
      const peak = Number(/True peak:\s+Peak:\s*(-?[\d.]+)/.exec(said)?.[1]);
      expect(Math.abs(level - loudest(x, rate)), name).toBeLessThan(0.5);
      expect(peak, name).toBeLessThanOrEqual(-1);
      levels.push(level);
    });
    rmSync(dir, { recursive: true });
    expect(levels).toHaveLength(rooms.length * sounds.length);
    expect(Math.max(...levels) - Math.min(...levels)).toBeLessThan(1);
  });

  it('C13 no sound begins or ends with a click', () => {
    each((x, rate, name) => {
      const least = 2 / 32_767;
      expect(Math.abs(x[0] ?? 1), name).toBeLessThanOrEqual(least);
      expect(Math.abs(x.at(-1) ?? 1), name).toBeLessThanOrEqual(0.01);
      // A click is broad: what lies above 4 kHz in the first and last 20 ms stays 40 dB under the sound.
      const edge = Math.round(rate * 0.02);
      const silent = new Float64Array(edge);
      const [head, tail] = [Float64Array.from([...silent, ...x.slice(0, edge)]), Float64Array.from([...x.slice(-edge), ...silent])];
      const whole = powerIn(x, rate, 0, rate / 2) / x.length;
      // The other end of each cut is faded here, so that only the sound's own edge is judged.
      for (let i = 0; i < edge; i += 1) {
        const fade = 0.5 + 0.5 * Math.cos((Math.PI * i) / edge);
        head[edge + i] = (head[edge + i] ?? 0) * fade;
        tail[edge - 1 - i] = (tail[edge - 1 - i] ?? 0) * fade;
      }
      for (const end of [head, tail]) expect(10 * Math.log10(powerIn(end, rate, 4_000, rate / 2) / edge / whole), name).toBeLessThan(-40);
    });
  });

  it('C14 nine tenths of the energy lie between 500 and 2,000 Hz', () => {
    each((x, rate, name) => {
      expect(powerIn(x, rate, 500, 2_000) / powerIn(x, rate, 0, rate / 2), name).toBeGreaterThan(0.9);
    });
  });

  it('C15 rhythm and contour tell the signals apart; no two of eight rooms have the same voice', () => {
    const beats: Partial<Record<Sound, string>> = { three: 'count', two: 'count', one: 'count', 'last-three': 'last', 'last-two': 'last', 'last-one': 'last' };
    const shapes = new Map<string, string>();
    for (const sound of sounds) {
      const shape = `${rhythmOf(score[sound])} ${contourOf(score[sound])}`;
      expect(shapes.get(shape) ?? beats[sound] ?? sound, shape).toBe(beats[sound] ?? sound);
      shapes.set(shape, beats[sound] ?? sound);
    }
    expect(shapes.size).toBe(sounds.length - 4);
    expect(new Set(timbres.map((t) => t.name)).size).toBe(8);
    expect(sprite.files).toHaveLength(8);
  });

  it('C17 the files are what the script makes', () => {
    const made = makeSprites();
    expect(sprite.signals).toEqual(made.map);
    made.rooms.forEach((samples, room) => {
      const file = rooms[room]?.samples ?? [];
      expect(file).toHaveLength(samples.length);
      // One step of 16 bits for rounding, one for another machine's sine.
      expect(samples.some((x, i) => Math.abs(x - (file[i] ?? 0)) > 2 / 32_767)).toBe(false);
    });
  });
});
