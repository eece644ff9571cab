/** Owns what the intervals of a plan add up to. Milliseconds throughout. */
import type { Interval, IntervalKind } from './interval.ts';

export interface Totals {
  /** All of it, estimates included. */
  readonly lengthMs: number;
  /** What ends by the clock. */
  readonly clockedMs: number;
  readonly byKind: Readonly<Record<IntervalKind, number>>;
  readonly leftMs: number;
  readonly rightMs: number;
}

export function totals(intervals: readonly Interval[]): Totals {
  const byKind: Record<IntervalKind, number> = { talk: 0, show: 0, 'set-up': 0, work: 0, 'other-side': 0, rest: 0 };
  const sides = { left: 0, right: 0 };
  let clockedMs = 0;
  for (const i of intervals) {
    byKind[i.kind] += i.lengthMs;
    if (i.ends === 'clock') clockedMs += i.lengthMs;
    if (i.kind === 'work' && i.side) sides[i.side] += i.lengthMs;
  }
  const lengthMs = Object.values(byKind).reduce((sum, ms) => sum + ms, 0);
  return { lengthMs, clockedMs, byKind, leftMs: sides.left, rightMs: sides.right };
}

/** Instants at which the intervals begin, in milliseconds from the start of the class. */
export function startsMs(intervals: readonly Interval[]): number[] {
  let at = 0;
  return intervals.map((i) => {
    const start = at;
    at += i.lengthMs;
    return start;
  });
}
