/**
 * Owns where a class stands at an instant: pure arithmetic from the anchor.
 * Intervals are half open, so at its very end one is in the next. Nothing here
 * changes a session.
 */
import { FORGOTTEN_MS } from '../limits.ts';
import { factsFor } from '../plan/facts.ts';
import type { Interval } from '../plan/interval.ts';
import { floorTimeMs } from '../plan/positions.ts';
import { after, between, later, type ServerAt } from '../time/units.ts';
import type { Session } from './session.ts';

export interface Place {
  /** Index of the interval; the number of intervals once the class is over. */
  readonly index: number;
  readonly elapsedMs: number;
  /** Count-in still to come before the interval goes on. */
  readonly countInMs: number;
  readonly over: Session['over'];
}

/** A stretch of time that belongs to one account: a pause, a count-in, or an interval. */
export interface Stretch {
  readonly what: 'paused' | 'count-in' | 'interval';
  readonly index: number;
  readonly from: ServerAt;
  readonly ms: number;
}

/** Walks from the anchor to `at`, naming each stretch on the way; says where that ends. */
export function walk(s: Session, at: ServerAt, visit?: (stretch: Stretch) => void): Place {
  const { intervals, anchor } = s;
  const atEnd = (over: Session['over']): Place => ({ index: intervals.length, elapsedMs: 0, countInMs: 0, over });
  if (s.over) return atEnd(s.over);
  const end = later(at, anchor.at);
  let now = anchor.at;
  const spend = (what: Stretch['what'], index: number, ms: number) => {
    if (ms > 0) visit?.({ what, index, from: now, ms });
    now = after(now, ms);
  };
  let { index, elapsedMs } = anchor;

  if (s.pause) {
    const limit = after(s.pause.since, FORGOTTEN_MS);
    spend('paused', index, Math.min(between(now, end), between(now, limit)));
    return end < limit ? { index, elapsedMs, countInMs: 0, over: null } : atEnd({ at: limit, how: 'forgotten' });
  }
  const countIn = Math.min(anchor.countInMs, between(now, end));
  spend('count-in', index, countIn);
  if (countIn < anchor.countInMs) return { index, elapsedMs, countInMs: anchor.countInMs - countIn, over: null };

  for (;;) {
    const interval = intervals[index];
    if (!interval) return atEnd({ at: now, how: 'ran-out' });
    const leftMs = (interval.ends === 'go' ? FORGOTTEN_MS : interval.lengthMs) - elapsedMs;
    const spentMs = Math.min(leftMs, between(now, end));
    spend('interval', index, spentMs);
    if (spentMs < leftMs) return { index, elapsedMs: elapsedMs + spentMs, countInMs: 0, over: null };
    if (interval.ends === 'go') return atEnd({ at: now, how: 'forgotten' });
    index += 1;
    elapsedMs = 0;
  }
}

export const placeAt = (s: Session, at: ServerAt): Place => walk(s, at);

/** The name of what runs at a place: the interval's id and how often the class has gone back so far. */
export const occurrenceOf = (s: Session, index: number): string => `${s.intervals[index]?.id ?? 'over'}~${s.goneBack}`;

/** Milliseconds that clocked intervals still hold, from a place on. */
export function remainingMs(s: Session, place: Pick<Place, 'index' | 'elapsedMs'>): number {
  let sum = 0;
  for (let i = place.index; i < s.intervals.length; i += 1) {
    const interval = s.intervals[i] as Interval;
    if (interval.ends === 'clock') sum += interval.lengthMs - (i === place.index ? place.elapsedMs : 0);
  }
  return sum;
}

/** Milliseconds the room needs before it can work in this interval. */
export function readyMs(s: Session, interval: Interval): number {
  const ids = interval.stations?.movements ?? (interval.movement ? [interval.movement] : (interval.prompts ?? []).slice(0, 1));
  const floor = ids.map((id) => floorTimeMs(factsFor(s.facts, id).start, s.plan.group));
  return Math.max(s.settings.countInMs, ...floor);
}

/**
 * The count-in that is owed when the clock is set going at a place: what the
 * intervals up to the next work do not already give. In work all of it; before
 * an interval that waits for go none.
 */
export function countInOwedMs(s: Session, index: number, elapsedMs: number, list: readonly Interval[] = s.intervals): number {
  let given = 0;
  for (let i = index; i < list.length; i += 1) {
    const interval = list[i] as Interval;
    if (interval.kind === 'work') return Math.max(0, readyMs(s, interval) - given);
    if (interval.ends === 'go') return 0;
    given += interval.lengthMs - (i === index ? elapsedMs : 0);
  }
  return 0;
}

/** Milliseconds from a place to the next work, or null where something waits for go before it. */
export function toWorkMs(s: Session, place: Place): number | null {
  let sum = place.countInMs;
  for (let i = place.index; i < s.intervals.length; i += 1) {
    const interval = s.intervals[i] as Interval;
    if (interval.kind === 'work') return sum;
    if (interval.ends === 'go') return null;
    sum += interval.lengthMs - (i === place.index ? place.elapsedMs : 0);
  }
  return null;
}
