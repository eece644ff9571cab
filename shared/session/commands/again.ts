/**
 * Owns Again: this interval from its start. Within the first seconds of a pass it
 * goes to the nearest start before it: a show, or what follows the shows
 * of a movement. A redone interval has the length it last had.
 */
import { z } from 'zod';
import { AGAIN_WINDOW_MS } from '../../limits.ts';
import { unitOf } from '../../plan/interval.ts';
import type { ServerAt } from '../../time/units.ts';
import type { Place } from '../place.ts';
import type { Session } from '../session.ts';
import { at, bookJump, type Decided, here, indexOf, intervalId, ms, occurrence, owed, standAt } from './common.ts';

export const schema = z.strictObject({ type: z.literal('again'), occurrence });
export const eventSchema = z.strictObject({ type: z.literal('went-back'), at, to: intervalId, countInMs: ms });
type WentBack = z.infer<typeof eventSchema>;

function isStart(s: Session, index: number): boolean {
  const i = s.intervals[index];
  if (!i || i.kind === 'rest' || i.kind === 'talk') return false;
  const before = s.intervals[index - 1];
  return i.kind === 'show' || !before || before.kind === 'show' || unitOf(before) !== unitOf(i);
}

function target(s: Session, place: Place): number {
  if (place.elapsedMs >= AGAIN_WINDOW_MS) return place.index;
  for (let k = place.index - 1; k >= 0; k -= 1) if (isStart(s, k)) return k;
  return place.index;
}

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<WentBack> {
  const h = here(s, command.occurrence, now);
  if ('refused' in h) return h;
  const index = target(s, h.place);
  return { events: [{ type: 'went-back', at: now, to: s.intervals[index]?.id ?? h.interval.id, countInMs: owed(s, index) }] };
}

export const evolve = (s: Session, e: WentBack): Session =>
  bookJump(s, { ...standAt(s, indexOf(s, e.to), e.countInMs), goneBack: s.goneBack + 1 });
