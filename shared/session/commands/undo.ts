/**
 * Owns taking back the last change of the list, a way to end on time above all:
 * exactly as it was before, until something it changed has begun or was changed
 * again. Pauses between do not matter.
 */
import { z } from 'zod';
import type { ServerAt } from '../../time/units.ts';
import { editSchema, stands, takeBack } from '../edit.ts';
import { refuse } from '../refusal.ts';
import type { Session } from '../session.ts';
import { at, type Decided, here } from './common.ts';

export const schema = z.strictObject({ type: z.literal('undo'), change: z.int().min(1) });
export const eventSchema = z.strictObject({ type: z.literal('undone'), at, what: z.string().max(40), edit: editSchema });
type Undone = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<Undone> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  const { change } = s;
  if (!change || change.number !== command.change || !stands(s, change)) return refuse('nothing-to-undo');
  return { events: [{ type: 'undone', at: now, what: change.what, edit: change.back }] };
}

export const evolve = (s: Session, e: Undone): Session => takeBack(s, e.edit);
