/** Owns carrying on after a pause or after moving, with the count-in that it owes. It names the pause that it ends; out of a stop it does not lead. */
import { z } from 'zod';
import type { ServerAt } from '../../time/units.ts';
import { countInOwedMs } from '../place.ts';
import { refuse } from '../refusal.ts';
import type { Session } from '../session.ts';
import { at, type Decided, here, ms } from './common.ts';

export const schema = z.strictObject({ type: z.literal('carry-on'), pause: z.int().min(1) });
export const eventSchema = z.strictObject({ type: z.literal('carried-on'), at, countInMs: ms });
type CarriedOn = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<CarriedOn> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  if (!s.pause) return refuse('not-paused');
  if (s.pause.number !== command.pause) return refuse('too-late');
  return { events: [{ type: 'carried-on', at: now, countInMs: countInOwedMs(s, h.place.index, h.place.elapsedMs) }] };
}

export const evolve = (s: Session, e: CarriedOn): Session => ({
  ...s,
  pause: null,
  anchor: { ...s.anchor, countInMs: e.countInMs },
});
