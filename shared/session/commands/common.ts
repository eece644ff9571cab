/** Owns what all commands share: the outcome of deciding, and the check that its sender saw what still runs. */
import { z } from 'zod';
import { type Interval, unitOf } from '../../plan/interval.ts';
import type { ServerAt } from '../../time/units.ts';
import { countInOwedMs, occurrenceOf, type Place, placeAt, remainingMs } from '../place.ts';
import { type Refusal, refuse } from '../refusal.ts';
import { atSchema, type Pause, type Session, type Standstill } from '../session.ts';
import { closed } from '../settle.ts';

export const at = atSchema;
export const ms = z.int().min(0);
export const intervalId = z.string().min(1).max(80);
/** The occurrence that the sender saw: interval id and how often the class has gone back. */
export const occurrence = z.string().min(1).max(90);

export type Decided<E> = { readonly events: readonly E[] } | { readonly refused: Refusal };

export interface Here {
  readonly place: Place;
  readonly interval: Interval;
}

/** Where the class stands, if it is on and still in the occurrence that was seen; else the refusal. */
export function here(s: Session, seen: string | null, now: ServerAt): Here | { readonly refused: Refusal } {
  const place = placeAt(s, now);
  const interval = s.intervals[place.index];
  if (place.over || !interval) return refuse('over');
  if (seen !== null && seen !== occurrenceOf(s, place.index)) return refuse('too-late');
  return { place, interval };
}

/** The count-in to write into an event: none while paused, for carry on owes it afresh. */
export const owed = (s: Session, index: number, elapsedMs = 0): number => (s.pause ? 0 : countInOwedMs(s, index, elapsedMs));

/** The session, its clock standing from now on. A count-in that ran ends. */
export function standStill(s: Session, what: Standstill, since: ServerAt, also: Partial<Pick<Pause, 'reason' | 'stop' | 'quiet' | 'aimAt'>> = {}): Session {
  const standing = s.pause !== null && s.pause.what !== 'keep-moving' && what !== 'keep-moving';
  const pause: Pause = {
    number: s.pauses + 1, since, reason: null, what, stoodSince: standing && s.pause ? s.pause.stoodSince : since, quiet: false, aimAt: null, stop: null, ...also,
  };
  return { ...s, pause, pauses: pause.number, anchor: { ...s.anchor, countInMs: 0 } };
}

/** The session, standing at the start of another interval. Past the last one the class has run out. */
export function standAt(s: Session, index: number, countInMs: number): Session {
  const moved = { ...s, anchor: { at: s.anchor.at, index, elapsedMs: 0, countInMs } };
  return index >= s.intervals.length ? closed(moved, { at: s.anchor.at, how: 'ran-out' }) : moved;
}

export const indexOf = (s: Session, id: string): number => {
  const index = s.intervals.findIndex((i) => i.id === id);
  if (index < 0) throw new Error(`the log names an interval that this class does not have: ${id}`);
  return index;
};

/** Books the difference in what remains: less is skipped, more is repeated. */
export function bookJump(before: Session, moved: Session): Session {
  const change = remainingMs(moved, moved.anchor) - remainingMs(before, before.anchor);
  const { sums } = moved;
  return change < 0
    ? { ...moved, sums: { ...sums, skipped: sums.skipped - change } }
    : { ...moved, sums: { ...sums, repeated: sums.repeated + change } };
}

/** Changes lengths by so many milliseconds each. */
export const lengthen = (s: Session, changes: readonly { interval: string; byMs: number }[]): readonly Interval[] =>
  s.intervals.map((i) => {
    const change = changes.find((c) => c.interval === i.id);
    return change ? { ...i, lengthMs: i.lengthMs + change.byMs } : i;
  });

/** The other side of one-sided clocked work that is still to come, if there is one. */
export function partnerOf(s: Session, index: number): Interval | null {
  const mine = s.intervals[index];
  if (!mine?.pair || !mine.side) return null;
  return s.intervals.find((i, k) => k > index && i.kind === 'work' && i.ends === 'clock' && i.pair === mine.pair && i.side !== mine.side) ?? null;
}


/** Whether a command names exactly these intervals: then its sender saw what it is about. */
export function namesAll(ids: readonly string[], intervals: readonly Interval[]): boolean {
  const named = new Set(ids);
  return named.size === intervals.length && intervals.every((i) => named.has(i.id));
}

export const insertAfter = (list: readonly Interval[], index: number, added: readonly Interval[]): Interval[] =>
  [...list.slice(0, index + 1), ...added, ...list.slice(index + 1)];

/** Index of the last interval of the movement that an interval belongs to. */
export function endOfUnit(list: readonly Interval[], index: number): number {
  const mine = list[index];
  let last = index;
  for (let k = index + 1; mine && k < list.length && unitOf(list[k] as Interval) === unitOf(mine); k += 1) last = k;
  return last;
}
