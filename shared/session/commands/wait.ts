/** Owns "wait": a set-up that runs is stretched until the instructor says go. */
import { z } from 'zod';
import type { ServerAt } from '../../time/units.ts';
import { refuse } from '../refusal.ts';
import type { Session } from '../session.ts';
import { at, bookJump, type Decided, here, intervalId, ms, occurrence } from './common.ts';

export const schema = z.strictObject({ type: z.literal('wait'), occurrence });
export const eventSchema = z.strictObject({ type: z.literal('waited'), at, interval: intervalId, estimateMs: ms.min(1) });
type Waited = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<Waited> {
  const h = here(s, command.occurrence, now);
  if ('refused' in h) return h;
  if (h.interval.kind !== 'set-up') return refuse('not-a-set-up');
  if (h.interval.ends === 'go') return refuse('waiting-already');
  const estimateMs = h.interval.lengthMs - h.place.elapsedMs;
  return { events: [{ type: 'waited', at: now, interval: h.interval.id, estimateMs }] };
}

export function evolve(s: Session, e: Waited): Session {
  const intervals = s.intervals.map((i) => (i.id === e.interval ? { ...i, ends: 'go' as const, lengthMs: e.estimateMs } : i));
  return bookJump(s, { ...s, intervals, anchor: { ...s.anchor, elapsedMs: 0, countInMs: 0 } });
}
