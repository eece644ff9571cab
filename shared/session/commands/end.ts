/** Owns ending a class by hand. What it cuts off counts as skipped. */
import { z } from 'zod';
import type { ServerAt } from '../../time/units.ts';
import { remainingMs } from '../place.ts';
import type { Session } from '../session.ts';
import { closed } from '../settle.ts';
import { at, type Decided, here } from './common.ts';

export const schema = z.strictObject({ type: z.literal('end') });
export const eventSchema = z.strictObject({ type: z.literal('ended'), at });
type Ended = z.infer<typeof eventSchema>;

export function decide(s: Session, _command: z.infer<typeof schema>, now: ServerAt): Decided<Ended> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  return { events: [{ type: 'ended', at: now }] };
}

export function evolve(s: Session, e: Ended): Session {
  const skipped = s.sums.skipped + remainingMs(s, s.anchor);
  return closed({ ...s, sums: { ...s.sums, skipped } }, { at: e.at, how: 'ended' });
}
