/** Owns giving a show that is still to come more time: its estimate, or its seconds where it runs by the clock. */
import { z } from 'zod';
import { EXTEND_MOST_MS, PLAN_MOST_S } from '../../limits.ts';
import type { ServerAt } from '../../time/units.ts';
import { carryOut, type Edit, editSchema } from '../edit.ts';
import { refuse } from '../refusal.ts';
import type { Session } from '../session.ts';
import { at, type Decided, here, intervalId } from './common.ts';

export const schema = z.strictObject({ type: z.literal('lengthen-show'), interval: intervalId, byMs: z.int().min(1_000).max(EXTEND_MOST_MS) });
export const eventSchema = z.strictObject({ type: z.literal('show-lengthened'), at, edit: editSchema });
type ShowLengthened = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<ShowLengthened> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  const index = s.intervals.findIndex((i) => i.id === command.interval);
  const show = s.intervals[index];
  if (show?.kind !== 'show') return refuse('no-show');
  if (index <= h.place.index) return refuse('too-late');
  if (show.lengthMs + command.byMs > PLAN_MOST_S * 1_000) return refuse('too-long');
  const edit: Edit = { changes: [{ interval: show.id, byMs: command.byMs }], removed: [], added: [] };
  return { events: [{ type: 'show-lengthened', at: now, edit }] };
}

export const evolve = (s: Session, e: ShowLengthened): Session => carryOut(s, e.edit, e.type);
