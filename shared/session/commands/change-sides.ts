/** Owns changing sides now: this side ends, and the other is shortened to the same. */
import { z } from 'zod';
import { LEAST_WORK_MS } from '../../limits.ts';
import type { ServerAt } from '../../time/units.ts';
import { refuse } from '../refusal.ts';
import type { Session } from '../session.ts';
import { at, bookJump, type Decided, here, indexOf, intervalId, occurrence, partnerOf, standAt } from './common.ts';

export const schema = z.strictObject({ type: z.literal('change-sides'), occurrence });
export const eventSchema = z.strictObject({
  type: z.literal('sides-changed'),
  at,
  to: intervalId,
  /** The other side and its new length; null where it ends on go and has none to lose. */
  other: z.strictObject({ interval: intervalId, byMs: z.int().max(0) }).nullable(),
});
type SidesChanged = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<SidesChanged> {
  const h = here(s, command.occurrence, now);
  if ('refused' in h) return h;
  const { place, interval } = h;
  if (interval.kind !== 'work' || !interval.pair) return refuse('no-sides');
  const next = s.intervals[place.index + 1];
  const work = s.intervals[place.index + 2];
  if (next?.kind !== 'other-side' || work?.pair !== interval.pair) {
    return refuse(partnerOf(s, place.index) ? 'no-sides' : 'last-side', partnerOf(s, place.index) ? 'The other side comes in the next round.' : undefined);
  }
  if (place.elapsedMs < LEAST_WORK_MS) return refuse('too-soon');
  const other = work.ends === 'clock' ? { interval: work.id, byMs: Math.min(0, place.elapsedMs - work.lengthMs) } : null;
  return { events: [{ type: 'sides-changed', at: now, to: next.id, other }] };
}

export function evolve(s: Session, e: SidesChanged): Session {
  const { other } = e;
  const moved = bookJump(s, standAt(s, indexOf(s, e.to), 0));
  if (!other) return moved;
  const intervals = moved.intervals.map((i) => (i.id === other.interval ? { ...i, lengthMs: i.lengthMs + other.byMs } : i));
  return { ...moved, intervals, sums: { ...moved.sums, extended: moved.sums.extended + other.byMs } };
}
