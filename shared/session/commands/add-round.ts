/**
 * Owns adding a round to a section: the last one again as the plan would go on,
 * leads in turn and without shows. It names the interval that it follows, so that
 * two hands add one round.
 */
import { z } from 'zod';
import type { ServerAt } from '../../time/units.ts';
import { carryOut, editBetween, editSchema } from '../edit.ts';
import { refuse } from '../refusal.ts';
import { mayAdd, oneMoreRound } from '../rounds.ts';
import type { Session } from '../session.ts';
import { fitSetUps } from '../set-ups.ts';
import { at, type Decided, here, insertAfter, intervalId } from './common.ts';

const section = z.int().min(0);
export const schema = z.strictObject({ type: z.literal('add-round'), section, after: intervalId });
export const eventSchema = z.strictObject({ type: z.literal('round-added'), at, section, round: z.int().min(1), edit: editSchema });
type RoundAdded = z.infer<typeof eventSchema>;

/** Index of the last interval of the last round; the new one follows it. */
export const lastOfRounds = (s: Session, section: number): number =>
  s.intervals.findLastIndex((i) => i.section === section && i.round > 0 && i.kind !== 'rest' && i.kind !== 'talk');

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<RoundAdded> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  const last = lastOfRounds(s, command.section);
  const interval = s.intervals[last];
  if (!interval) return refuse('no-round');
  if (last < h.place.index || interval.id !== command.after) return refuse('too-late');
  if (!mayAdd(s)) return refuse('enough');
  const added = oneMoreRound(s, command.section);
  const first = added.find((i) => i.kind === 'work');
  if (!first) return refuse('no-round');
  const edit = editBetween(s.intervals, fitSetUps(s, insertAfter(s.intervals, last, added)));
  return { events: [{ type: 'round-added', at: now, section: command.section, round: first.round, edit }] };
}

export const evolve = (s: Session, e: RoundAdded): Session => carryOut(s, e.edit, e.type);
