/**
 * Owns when a class will end, as far as anybody can know it at an instant, and
 * whether that is early, on time or late.
 */
import { EARLY_FROM_MS, EARLY_UNTIL_MS, LATE_FROM_MS, LATE_UNTIL_MS } from '../limits.ts';
import type { Interval } from '../plan/interval.ts';
import { after, between, later, type ServerAt } from '../time/units.ts';
import { countInOwedMs, type Place, placeAt, remainingMs } from './place.ts';
import type { Session, Standing } from './session.ts';

/**
 * Estimates of what ends on go and is still to come; of the present one what is
 * left, at least 0. With each goes the count-in that its go will owe.
 */
export function openMs(s: Session, place: Place): number {
  let sum = 0;
  for (let i = place.index; i < s.intervals.length; i += 1) {
    const interval = s.intervals[i] as Interval;
    if (interval.ends !== 'go') continue;
    sum += Math.max(0, interval.lengthMs - (i === place.index ? place.elapsedMs : 0)) + goOwesMs(s, i);
  }
  return sum;
}

/** The count-in that a go here owes. Who waited in a set-up is in place already. */
export function goOwesMs(s: Session, index: number): number {
  const owedMs = countInOwedMs(s, index + 1, 0);
  return s.intervals[index]?.kind === 'set-up' ? Math.min(owedMs, s.settings.countInMs) : owedMs;
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

/** Early, on time or late from how it was and how much later than promised the end now is. */
export function stand(was: Standing, byMs: number): Standing {
  if (byMs > (was === 'late' ? LATE_UNTIL_MS : LATE_FROM_MS)) return 'late';
  return -byMs > (was === 'early' ? EARLY_UNTIL_MS : EARLY_FROM_MS) ? 'early' : 'on-time';
}

export interface Lateness {
  readonly standing: Standing;
  /** How much later than promised the class will end; less than 0 is early. */
  readonly byMs: number;
  /** The floor that sticks out past the end post; 0 where there is none. */
  readonly overrunMs: number;
  readonly endAt: ServerAt;
  readonly promisedAt: ServerAt;
}

/** How the class stands to its promised end. The log alone says how it stood before (evolve.ts). */
export function lateness(s: Session, at: ServerAt): Lateness {
  const { endAt } = finish(s, at);
  const byMs = between(s.promisedAt, endAt);
  return { standing: stand(s.standing, byMs), byMs, overrunMs: Math.max(0, byMs), endAt, promisedAt: s.promisedAt };
}
