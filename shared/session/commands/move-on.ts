/**
 * Owns moving on: the rest of this movement (show, set-up, both sides, make-up) is
 * left. In a rest only the rest is left. In the last movement it is refused, since
 * that is what end is for.
 */
import { z } from 'zod';
import { unitOf } from '../../plan/interval.ts';
import type { ServerAt } from '../../time/units.ts';
import { refuse } from '../refusal.ts';
import type { Session } from '../session.ts';
import { at, bookJump, type Decided, here, indexOf, intervalId, ms, occurrence, owed, standAt } from './common.ts';

export const schema = z.strictObject({ type: z.literal('move-on'), occurrence });
export const eventSchema = z.strictObject({ type: z.literal('moved-on'), at, to: intervalId, countInMs: ms });
type MovedOn = z.infer<typeof eventSchema>;

/** Index of the first interval after this movement, or null in the last one. */
export function nextUnit(s: Session, index: number): number | null {
  const mine = s.intervals[index];
  if (!mine) return null;
  let next = index + 1;
  while (next < s.intervals.length && unitOf(s.intervals[next] ?? mine) === unitOf(mine)) next += 1;
  return s.intervals.slice(next).some((i) => i.kind !== 'rest') ? next : null;
}

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<MovedOn> {
  const h = here(s, command.occurrence, now);
  if ('refused' in h) return h;
  const next = nextUnit(s, h.place.index);
  const to = next === null ? undefined : s.intervals[next];
  if (next === null || !to) return refuse('last-movement');
  return { events: [{ type: 'moved-on', at: now, to: to.id, countInMs: owed(s, next) }] };
}

export const evolve = (s: Session, e: MovedOn): Session => bookJump(s, standAt(s, indexOf(s, e.to), e.countInMs));
