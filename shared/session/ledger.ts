/**
 * Owns where each millisecond of a class went, and which side is owed what.
 * Read from the session as it stands; books nothing itself (settle.ts does).
 */
import { LEAST_WORK_MS } from '../limits.ts';
import type { Interval, Side } from '../plan/interval.ts';
import type { ServerAt } from '../time/units.ts';
import type { Place } from './place.ts';
import { placeAt } from './place.ts';
import type { Accounts, Session, Sums } from './session.ts';
import { settle } from './settle.ts';

export interface Ledger {
  readonly accounts: Accounts;
  readonly sums: Sums;
}

/** The ledger at an instant; the accounts add up to the time since the start. */
export function ledger(s: Session, at: ServerAt): Ledger {
  const { accounts, sums } = settle(s, at);
  return { accounts, sums };
}

/** Left and right of one pair in milliseconds: what was done, and what is still to come. */
export function sidesOf(s: Session, pair: string, place: Place): { left: number; right: number } {
  const sum = { left: 0, right: 0, ...s.sides[pair] };
  for (let i = place.index; i < s.intervals.length; i += 1) {
    const interval = s.intervals[i] as Interval;
    if (interval.pair !== pair || interval.kind !== 'work' || interval.ends !== 'clock' || !interval.side) continue;
    sum[interval.side] += interval.lengthMs - (i === place.index ? place.elapsedMs : 0);
  }
  return sum;
}

export interface Owed {
  readonly pair: string;
  readonly side: Side;
  readonly ms: number;
  /** Whether the make-up follows the side that runs; else it comes at once. */
  readonly follows: boolean;
}

const toCome = (s: Session, from: number, pair: string): boolean =>
  s.intervals.some((i, k) => k >= from && i.kind === 'work' && i.pair === pair);

/**
 * The side that is owed a make-up, for one movement at most: the present one on
 * its last side, or the one just left, until work begins again; each only once.
 */
export function owedSide(session: Session, at: ServerAt): Owed | null {
  const s = settle(session, at);
  const place = placeAt(s, at);
  const interval = s.intervals[place.index];
  if (place.over || !interval) return null;
  const working = interval.kind === 'work' && place.countInMs === 0 && (place.elapsedMs > 0 || !s.pause);
  const pair = working ? (interval.pair ?? null) : s.lastPair;
  if (pair === null || s.evened.includes(pair) || toCome(s, place.index + (working ? 1 : 0), pair)) return null;
  const { left, right } = sidesOf(s, pair, place);
  const ms = Math.abs(left - right);
  if (ms < LEAST_WORK_MS) return null;
  return { pair, side: left < right ? 'left' : 'right', ms, follows: working };
}

/** Pairs whose sides differ although nothing of them is still to come; milliseconds, left less right. */
export function unevenSides(session: Session, at: ServerAt): { readonly pair: string; readonly byMs: number }[] {
  const s = settle(session, at);
  const place = placeAt(s, at);
  return Object.entries(s.sides)
    .filter(([pair]) => !toCome(s, place.index, pair))
    .map(([pair, { left, right }]) => ({ pair, byMs: left - right }))
    .filter(({ byMs }) => byMs !== 0);
}
