/**
 * Owns dropping the last round of a section, with the rest before it unless that
 * runs. It names the intervals it takes out; once one has begun it is refused.
 */
import { z } from 'zod';
import { INTERVALS_MAX } from '../../limits.ts';
import type { ServerAt } from '../../time/units.ts';
import { carryOut, editBetween, editSchema } from '../edit.ts';
import { refuse } from '../refusal.ts';
import { lastRounds, without } from '../rounds.ts';
import type { Session } from '../session.ts';
import { fitSetUps } from '../set-ups.ts';
import { at, type Decided, here, intervalId, namesAll } from './common.ts';

const section = z.int().min(0);
export const schema = z.strictObject({ type: z.literal('drop-round'), section, intervals: z.array(intervalId).min(1).max(INTERVALS_MAX) });
export const eventSchema = z.strictObject({ type: z.literal('round-dropped'), at, section, round: z.int().min(1), edit: editSchema });
type RoundDropped = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<RoundDropped> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  const its = lastRounds(s.intervals, command.section, 1, h.place.index);
  if (!its?.[0]) return refuse('no-round');
  if (!namesAll(command.intervals, its)) return refuse('too-late');
  const edit = editBetween(s.intervals, fitSetUps(s, without(s.intervals, its)));
  return { events: [{ type: 'round-dropped', at: now, section: command.section, round: its[0].round, edit }] };
}

export const evolve = (s: Session, e: RoundDropped): Session => carryOut(s, e.edit, e.type);
