/**
 * Owns extending and shortening what runs by the clock. While the other side is
 * still to come both sides get the same; else this side only, and the other is owed.
 */
import { z } from 'zod';
import { EXTEND_MOST_MS, LEAST_WORK_MS, PLAN_MOST_S } from '../../limits.ts';
import type { ServerAt } from '../../time/units.ts';
import { refuse } from '../refusal.ts';
import type { Session } from '../session.ts';
import { at, type Decided, here, intervalId, lengthen, occurrence, partnerOf } from './common.ts';

const byMs = z.int().min(1_000).max(EXTEND_MOST_MS);
export const schema = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('extend'), occurrence, byMs }),
  z.strictObject({ type: z.literal('shorten'), occurrence, byMs }),
]);
const changes = z.array(z.strictObject({ interval: intervalId, byMs: z.int() })).min(1).max(2);
export const eventSchema = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('extended'), at, changes }),
  z.strictObject({ type: z.literal('shortened'), at, changes }),
]);
type LengthEvent = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<LengthEvent> {
  const h = here(s, command.occurrence, now);
  if ('refused' in h) return h;
  const { place, interval } = h;
  if (interval.ends === 'go') return refuse('ends-on-go');
  const other = partnerOf(s, place.index);
  const both = other ? [interval, other] : [interval];
  if (command.type === 'extend') {
    if (both.some((i) => i.lengthMs + command.byMs > PLAN_MOST_S * 1_000)) return refuse('too-long');
    return { events: [{ type: 'extended', at: now, changes: both.map((i) => ({ interval: i.id, byMs: command.byMs })) }] };
  }
  const mineMs = interval.lengthMs - place.elapsedMs - LEAST_WORK_MS;
  const giveMs = Math.min(command.byMs, mineMs, other ? other.lengthMs - LEAST_WORK_MS : mineMs);
  if (giveMs <= 0) return refuse('nothing-to-give');
  return { events: [{ type: 'shortened', at: now, changes: both.map((i) => ({ interval: i.id, byMs: -giveMs })) }] };
}

export function evolve(s: Session, e: LengthEvent): Session {
  const sum = e.changes.reduce((total, c) => total + c.byMs, 0);
  return { ...s, intervals: lengthen(s, e.changes), sums: { ...s.sums, extended: s.sums.extended + sum } };
}
