/**
 * Owns doing the last movement once more: the one that is worked at, else the one
 * before. It follows this movement, or the rest or talk that runs; in a show or a
 * set-up of the next it comes at once, and what it interrupts begins again.
 */
import { z } from 'zod';
import { type Interval, unitOf } from '../../plan/interval.ts';
import type { ServerAt } from '../../time/units.ts';
import { carryOut, editBetween, editSchema } from '../edit.ts';
import { remainingMs } from '../place.ts';
import { refuse } from '../refusal.ts';
import { mayAdd, renamed } from '../rounds.ts';
import type { Session } from '../session.ts';
import { fitSetUps, setUpLeastMs } from '../set-ups.ts';
import { at, type Decided, endOfUnit, here, indexOf, insertAfter, intervalId, ms, occurrence, owed, standAt } from './common.ts';

export const schema = z.strictObject({ type: z.literal('repeat'), occurrence });
export const eventSchema = z.strictObject({
  type: z.literal('repeated'), at, edit: editSchema,
  /** Where it comes at once: its first interval. What it interrupts begins again afterwards. */
  to: intervalId.nullable(),
  countInMs: ms,
});
type Repeated = z.infer<typeof eventSchema>;

/** Set-up, work and other side of the movement that this work belongs to, with the lengths they last had. */
function again(s: Session, work: Interval): Interval[] {
  const k = s.intervals.indexOf(work);
  let first = k;
  while (first > 0 && unitOf(s.intervals[first - 1] as Interval) === unitOf(work)) first -= 1;
  const unit = s.intervals.slice(first, endOfUnit(s.intervals, k) + 1);
  const does = unit.filter((i) => i.kind === 'work' || i.kind === 'other-side').filter((i) => !i.id.includes('.even.'));
  const { pair: _p, target: _t, alternating: _a, ...like } = does[0] ?? work;
  const setUp: Interval = { ...like, id: `${like.section}.${like.round}.${like.item}.set-up`, kind: 'set-up', ends: 'clock', lengthMs: 1 };
  return [setUp, ...does];
}

/** Where it is put when it comes at once: before the set-up of what is interrupted, so that bodies get back into place. */
function beforeUnit(s: Session, index: number): number {
  const mine = s.intervals[index];
  const before = s.intervals[index - 1];
  return mine?.kind === 'work' && before?.kind === 'set-up' && unitOf(before) === unitOf(mine) ? index - 1 : index;
}

export function decide(s: Session, command: z.infer<typeof schema>, now: ServerAt): Decided<Repeated> {
  const h = here(s, command.occurrence, now);
  if ('refused' in h) return h;
  const { index, elapsedMs, countInMs } = h.place;
  const worked = h.interval.kind === 'work' && countInMs === 0 && elapsedMs > 0;
  const last = s.intervals.findLastIndex((i, k) => i.kind === 'work' && (worked ? k <= index : k < index));
  const work = s.intervals[last];
  if (!work) return refuse('nothing-done');
  if (!mayAdd(s)) return refuse('enough');
  const running = endOfUnit(s.intervals, last) >= index;
  const atOnce = !running && h.interval.kind !== 'rest' && h.interval.kind !== 'talk';
  const at_ = running ? endOfUnit(s.intervals, index) + 1 : atOnce ? beforeUnit(s, index) : index + 1;
  const list = insertAfter(s.intervals, at_ - 1, renamed(s, again(s, work)));
  const first = { ...(list[at_] as Interval), lengthMs: setUpLeastMs(s, list, at_) };
  list[at_] = first;
  const edit = editBetween(s.intervals, fitSetUps(s, list));
  const event: Repeated = { type: 'repeated', at: now, edit, to: atOnce ? first.id : null, countInMs: 0 };
  return { events: [atOnce ? { ...event, countInMs: owed(evolve(s, event), at_) } : event] };
}

export function evolve(s: Session, e: Repeated): Session {
  const grown = carryOut(s, e.edit, e.type);
  if (e.to === null) return grown;
  // What is interrupted begins again afterwards: what had been spent of it is put back.
  const moved = standAt(grown, indexOf(grown, e.to), e.countInMs);
  const net = (x: Session) => x.sums.extended + x.sums.added - x.sums.dropped;
  const putBackMs = remainingMs(moved, moved.anchor) - remainingMs(s, s.anchor) - (net(grown) - net(s));
  return { ...moved, goneBack: s.goneBack + 1, sums: { ...moved.sums, repeated: moved.sums.repeated + putBackMs }, change: null };
}
