/**
 * Owns how far the music stands back for the signals, and when: down before a signal
 * begins, up again slowly once none follows soon. Pure; times are those of the audio
 * clock in milliseconds, depths are decibels.
 */
import type { Sounding } from '../../../shared/sound/engine.ts';

export type { Sounding };
export type Point = readonly [atMs: number, db: number];

/** A signal is to stand 15 dB over what else is heard (ISO 7731, by third-party notes); music as loud as the signals then does. */
export const DUCK_DB = -15;
/** Down within this, so that the first beat finds it quiet: fast enough not to cut words, slow enough not to click (common practice, no source). */
export const FALL_MS = 150;
/** Stays down so long after a signal, then comes up within the second: no breath of it is heard (common practice, no source). */
export const HOLD_MS = 400;
export const RISE_MS = 1_200;
/** Music that would be up for less than this stays down: a count must not pump it. */
export const UP_LEAST_MS = 1_500;
/** What comes at once, as a pause does, has no time before it. */
const AT_ONCE_MS = 60;

/** The corners of the curve, in order. */
export function corners(sounds: readonly Sounding[]): readonly Point[] {
  const joined: { fromMs: number; toMs: number }[] = [];
  for (const { fromMs, toMs } of [...sounds].sort((a, b) => a.fromMs - b.fromMs)) {
    const last = joined.at(-1);
    if (last && fromMs - FALL_MS - (last.toMs + HOLD_MS + RISE_MS) < UP_LEAST_MS) last.toMs = Math.max(last.toMs, toMs);
    else joined.push({ fromMs, toMs });
  }
  return joined.flatMap(({ fromMs, toMs }): Point[] => [
    [fromMs - FALL_MS, 0], [fromMs, DUCK_DB], [toMs + HOLD_MS, DUCK_DB], [toMs + HOLD_MS + RISE_MS, 0],
  ]);
}

/** Decibels at a time: straight between two corners. */
export function dbAt(points: readonly Point[], atMs: number): number {
  const next = points.findIndex(([t]) => t > atMs);
  if (next === -1) return points.at(-1)?.[1] ?? 0;
  const [to, before] = [points[next], points[next - 1]];
  if (!to || !before) return 0;
  return before[1] + ((to[1] - before[1]) * (atMs - before[0])) / (to[0] - before[0]);
}

/** The way from where the music is to the new curve, without a jump: first the present, then the corners to come. */
export function onto(old: readonly Point[], next: readonly Point[], nowMs: number): readonly Point[] {
  const soonMs = nowMs + AT_ONCE_MS;
  return [[nowMs, dbAt(old, nowMs)], [soonMs, dbAt(next, soonMs)], ...next.filter(([t]) => t > soonMs)];
}

/** What still bears on the present: sounds that are planned, and those begun that the music is still down for. */
export const withPlanned = (held: readonly Sounding[], planned: readonly Sounding[], nowMs: number): readonly Sounding[] => [
  ...held.filter((s) => s.fromMs <= nowMs && s.toMs + HOLD_MS + RISE_MS + UP_LEAST_MS > nowMs && !planned.some((p) => Math.abs(p.fromMs - s.fromMs) < FALL_MS)),
  ...planned,
];
