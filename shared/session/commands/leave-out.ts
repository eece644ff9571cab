/**
 * Owns leaving a movement out of all rounds that have not begun with it. It names
 * the intervals it takes out; once one has begun it is refused.
 */
import { z } from 'zod';
import { INTERVALS_MAX } from '../../limits.ts';
import type { ServerAt } from '../../time/units.ts';
import { carryOut, editBetween, editSchema } from '../edit.ts';
import { refuse } from '../refusal.ts';
import { itemsLeft, restOfMovement, without } from '../rounds.ts';
import type { Session } from '../session.ts';
import { fitSetUps } from '../set-ups.ts';
import { at, type Decided, here, intervalId, namesAll } from './common.ts';

const section = z.int().min(0);
const item = z.int().min(0);
export const schema = z.strictObject({ type: z.literal('leave-out'), section, item, intervals: z.array(intervalId).min(1).max(INTERVALS_MAX) });
export const eventSchema = z.strictObject({ type: z.literal('left-out'), at, section, item, edit: editSchema });
type LeftOut = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<LeftOut> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  const its = restOfMovement(s.intervals, command.section, command.item, h.place.index);
  if (!its.some((i) => i.kind === 'work')) return refuse('none-left');
  if (itemsLeft(s.intervals, command.section, h.place.index).length < 2) return refuse('only-movement');
  if (!namesAll(command.intervals, its)) return refuse('too-late');
  const edit = editBetween(s.intervals, fitSetUps(s, without(s.intervals, its)));
  return { events: [{ type: 'left-out', at: now, section: command.section, item: command.item, edit }] };
}

export const evolve = (s: Session, e: LeftOut): Session =>
  carryOut(s, e.edit, e.type, { replaced: { ...s.replaced, [`${e.section}.${e.item}`]: null } });
