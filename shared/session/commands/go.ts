/**
 * Owns go, the instructor's word: it ends what waits for it. During a set-up or
 * a longer count-in it means "all are ready", and the count-in starts now.
 */
import { z } from 'zod';
import type { ServerAt } from '../../time/units.ts';
import { goOwesMs } from '../finish.ts';
import { refuse } from '../refusal.ts';
import type { Session } from '../session.ts';
import { at, bookJump, type Decided, here, intervalId, lengthen, ms, occurrence, standAt } from './common.ts';

export const schema = z.strictObject({ type: z.literal('go'), occurrence });
export const eventSchema = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('went'), at, countInMs: ms }),
  z.strictObject({ type: z.literal('readied'), at, interval: intervalId, byMs: ms, countInMs: ms }),
]);
type GoEvent = z.infer<typeof eventSchema>;

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<GoEvent> {
  const h = here(s, command.occurrence, now);
  if ('refused' in h) return h;
  if (s.pause) return refuse('paused');
  const { place, interval } = h;
  const countInMs = s.settings.countInMs;
  const countingIn = place.countInMs > 0;
  if (interval.ends === 'go' && !countingIn) {
    return { events: [{ type: 'went', at: now, countInMs: goOwesMs(s, place.index) }] };
  }
  if (interval.kind !== 'set-up' && !countingIn) return refuse('nothing-waits');
  const setUpLeftMs = interval.kind === 'set-up' && interval.ends === 'clock' ? interval.lengthMs - place.elapsedMs : 0;
  if (place.countInMs + setUpLeftMs <= countInMs) return refuse('counting-in');
  const byMs = Math.max(0, setUpLeftMs - countInMs);
  return {
    events: [{ type: 'readied', at: now, interval: interval.id, byMs, countInMs: Math.max(0, countInMs - setUpLeftMs) }],
  };
}

export function evolve(s: Session, e: GoEvent): Session {
  switch (e.type) {
    case 'went': return standAt(s, s.anchor.index + 1, e.countInMs);
    case 'readied': {
      const intervals = lengthen(s, [{ interval: e.interval, byMs: -e.byMs }]);
      return bookJump(s, { ...s, intervals, anchor: { ...s.anchor, countInMs: e.countInMs } });
    }
  }
}
