/** Owns leaving all that comes before the cool-down. What is left counts as skipped. */
import { z } from 'zod';
import type { ServerAt } from '../../time/units.ts';
import { refuse } from '../refusal.ts';
import type { Session } from '../session.ts';
import { at, bookJump, type Decided, here, indexOf, intervalId, ms, occurrence, owed, standAt } from './common.ts';

export const schema = z.strictObject({ type: z.literal('to-cool-down'), occurrence });
export const eventSchema = z.strictObject({ type: z.literal('cooled-down'), at, to: intervalId, countInMs: ms });
type CooledDown = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<CooledDown> {
  const h = here(s, command.occurrence, now);
  if ('refused' in h) return h;
  const coolDown = (section: number) => s.plan.sections[section]?.kind === 'cool-down';
  const index = s.intervals.findIndex((i, k) => k > h.place.index && coolDown(i.section) && i.kind !== 'rest');
  const to = s.intervals[index];
  if (!to || coolDown(h.interval.section)) return refuse('no-cool-down');
  return { events: [{ type: 'cooled-down', at: now, to: to.id, countInMs: owed(s, index) }] };
}

export const evolve = (s: Session, e: CooledDown): Session => bookJump(s, standAt(s, indexOf(s, e.to), e.countInMs));
