/**
 * Owns putting in a rest, which runs by the clock, or a water break, which ends on
 * go. It comes after the movement that runs, or after the rest or the talk.
 */
import { z } from 'zod';
import { BREAK_REST_MS, BREAK_WATER_MS } from '../../limits.ts';
import { breaks, type Interval } from '../../plan/interval.ts';
import type { ServerAt } from '../../time/units.ts';
import { carryOut, editBetween, editSchema } from '../edit.ts';
import { refuse } from '../refusal.ts';
import { mayAdd, renamed } from '../rounds.ts';
import type { Session } from '../session.ts';
import { fitSetUps } from '../set-ups.ts';
import { at, type Decided, endOfUnit, here, insertAfter, occurrence } from './common.ts';

const of = z.enum(breaks);
export const schema = z.strictObject({ type: z.literal('insert-break'), occurrence, of });
export const eventSchema = z.strictObject({ type: z.literal('break-inserted'), at, of, edit: editSchema });
type BreakInserted = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<BreakInserted> {
  const h = here(s, command.occurrence, now);
  if ('refused' in h) return h;
  if (!mayAdd(s)) return refuse('enough');
  const after = endOfUnit(s.intervals, h.place.index);
  const { section } = s.intervals[after + 1] ?? h.interval;
  const place = { section, round: 0, item: -1, break: command.of };
  const interval: Interval = command.of === 'water'
    ? { id: `${section}.water`, kind: 'talk', ends: 'go', lengthMs: BREAK_WATER_MS, ...place }
    : { id: `${section}.break`, kind: 'rest', ends: 'clock', lengthMs: BREAK_REST_MS, ...place };
  const list = fitSetUps(s, insertAfter(s.intervals, after, renamed(s, [interval])));
  return { events: [{ type: 'break-inserted', at: now, of: command.of, edit: editBetween(s.intervals, list) }] };
}

export const evolve = (s: Session, e: BreakInserted): Session => carryOut(s, e.edit, e.type);
