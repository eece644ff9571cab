/** Owns when a class will end, as far as anybody can know it at an instant. */
import type { Interval } from '../plan/interval.ts';
import { after, later, type ServerAt } from '../time/units.ts';
import { countInOwedMs, type Place, placeAt, remainingMs } from './place.ts';
import type { Session } from './session.ts';

/** Estimates of what ends on go and is still to come; of the present one what is left, at least 0. */
export function openMs(s: Session, place: Place): number {
  let sum = 0;
  for (let i = place.index; i < s.intervals.length; i += 1) {
    const interval = s.intervals[i] as Interval;
    if (interval.ends === 'go') sum += Math.max(0, interval.lengthMs - (i === place.index ? place.elapsedMs : 0));
  }
  return sum;
}

/** What a projected end is made of; all in milliseconds. */
export interface Finish {
  readonly countInMs: number;
  readonly remainingMs: number;
  readonly openMs: number;
  readonly endAt: ServerAt;
}

/**
 * Projected end = now + count-in (the running one, or the one that carrying on
 * would give) + remaining + open. After the end it is the end.
 */
export function finish(s: Session, at: ServerAt): Finish {
  const now = later(at, s.anchor.at);
  const place = placeAt(s, now);
  if (place.over) return { countInMs: 0, remainingMs: 0, openMs: 0, endAt: place.over.at };
  const countInMs = s.pause ? countInOwedMs(s, place.index, place.elapsedMs) : place.countInMs;
  const parts = { countInMs, remainingMs: remainingMs(s, place), openMs: openMs(s, place) };
  return { ...parts, endAt: after(now, parts.countInMs + parts.remainingMs + parts.openMs) };
}

export const projectedEndAt = (s: Session, at: ServerAt): ServerAt => finish(s, at).endAt;
