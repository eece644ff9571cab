/**
 * Owns pausing, with its reason. It is about the class, not an interval, so it is never
 * too late. Who keeps moving is paused by it; a stop has its own way back (stop.ts).
 */
import { z } from 'zod';
import type { ServerAt } from '../../time/units.ts';
import { pauseReasons, type Session } from '../session.ts';
import { at, type Decided, here, standStill } from './common.ts';

const reason = z.enum(pauseReasons).nullable().default(null);
export const schema = z.strictObject({ type: z.literal('pause'), reason });
export const eventSchema = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('paused'), at, reason }),
  z.strictObject({ type: z.literal('reason-given'), at, reason: z.enum(pauseReasons) }),
]);
type PauseEvent = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<PauseEvent> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  if (s.pause?.what !== 'pause') return { events: [{ type: 'paused', at: now, reason: command.reason }] };
  // Two hands on two phones want the same thing; the second changes nothing.
  if (command.reason === null || command.reason === s.pause.reason) return { events: [] };
  return { events: [{ type: 'reason-given', at: now, reason: command.reason }] };
}

export function evolve(s: Session, e: PauseEvent): Session {
  switch (e.type) {
    case 'paused': {
      return standStill(s, 'pause', e.at, { reason: e.reason });
    }
    case 'reason-given': return s.pause ? { ...s, pause: { ...s.pause, reason: e.reason } } : s;
  }
}
