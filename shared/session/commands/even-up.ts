/**
 * Owns evening up: the side that is owed gets its make-up. Taken on the last side
 * it follows; taken later it comes at once and the interrupted interval begins again.
 */
import { z } from 'zod';
import { intervalSchema } from '../../plan/interval.ts';
import { factsFor } from '../../plan/facts.ts';
import { otherSideMs } from '../../plan/positions.ts';
import type { ServerAt } from '../../time/units.ts';
import { type Owed, owedSide } from '../ledger.ts';
import { countInOwedMs } from '../place.ts';
import { refuse } from '../refusal.ts';
import type { Session } from '../session.ts';
import { at, type Decided, here, indexOf, intervalId, ms, standAt } from './common.ts';

export const schema = z.strictObject({ type: z.literal('even-up'), pair: z.string().min(1).max(80) });
export const eventSchema = z.strictObject({
  type: z.literal('evened-up'),
  at,
  pair: z.string(),
  intervals: z.array(intervalSchema).min(1).max(2),
  /** It goes in before this interval, or at the end. */
  before: intervalId.nullable(),
  /** Whether it comes at once; what it interrupts begins again. */
  now: z.boolean(),
  countInMs: ms,
});
type EvenedUp = z.infer<typeof eventSchema>;

function makeUp(s: Session, owed: Owed): EvenedUp['intervals'] {
  const last = s.intervals.findLast((i) => i.kind === 'work' && i.pair === owed.pair);
  if (!last) return [];
  const { alternating: _a, target: _t, ...like } = last;
  const position = last.movement ? factsFor(s.facts, last.movement).start : 'standing';
  const { pair: _p, ...place } = like;
  const turn = { ...place, id: `${owed.pair}.even.o`, kind: 'other-side' as const, ends: 'clock' as const };
  return [
    { ...turn, side: owed.side, lengthMs: otherSideMs(position, s.plan.group) },
    { ...like, id: `${owed.pair}.even.w`, side: owed.side, ends: 'clock', lengthMs: owed.ms },
  ];
}

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<EvenedUp> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  const owed = owedSide(s, now);
  if (!owed) return refuse('even');
  if (owed.pair !== command.pair) return refuse('too-late');
  const intervals = makeUp(s, owed);
  const index = h.place.index + (owed.follows ? 1 : 0);
  const before = s.intervals[index]?.id ?? null;
  const event: EvenedUp = { type: 'evened-up', at: now, pair: owed.pair, intervals, before, now: !owed.follows, countInMs: 0 };
  if (s.pause || owed.follows) return { events: [event] };
  return { events: [{ ...event, countInMs: countInOwedMs(evolve(s, event), index, 0) }] };
}

export function evolve(s: Session, e: EvenedUp): Session {
  const index = e.before === null ? s.intervals.length : indexOf(s, e.before);
  const intervals = [...s.intervals.slice(0, index), ...e.intervals, ...s.intervals.slice(index)];
  const addedMs = e.intervals.reduce((sum, i) => sum + i.lengthMs, 0);
  const grown: Session = {
    ...s, intervals, evened: [...s.evened, e.pair], sums: { ...s.sums, added: s.sums.added + addedMs },
  };
  if (!e.now) return grown;
  // The interrupted interval begins again after the make-up; what it had spent is put back.
  const interrupted = s.intervals[s.anchor.index];
  const putBackMs = interrupted?.ends === 'clock' ? s.anchor.elapsedMs : 0;
  const sums = { ...grown.sums, repeated: grown.sums.repeated + putBackMs };
  return { ...standAt(grown, index, e.countInMs), goneBack: s.goneBack + 1, sums };
}
