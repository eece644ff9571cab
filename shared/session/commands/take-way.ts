/**
 * Owns taking a way to end on time, or to use time that is left: one command with
 * all its cuts, one event. It looks at every cut again, for the sender is not
 * trusted: nothing that has begun, nothing below its least, never one side only.
 */
import { z } from 'zod';
import { PLAN_MOST_S, WAY_CHANGES_MAX } from '../../limits.ts';
import type { Interval } from '../../plan/interval.ts';
import type { ServerAt } from '../../time/units.ts';
import { carryOut, changed, editSchema, lengthSchema } from '../edit.ts';
import { coolDownSpareMs, inCoolDown, leastMs, leastWorkMs, menu, shownBy } from '../menu.ts';
import { refuse } from '../refusal.ts';
import type { Session } from '../session.ts';
import { at, type Decided, here, intervalId, namesAll } from './common.ts';

export const wayKinds = ['tighter', 'shorter', 'movement', 'round', 'longer'] as const;
export type WayKind = (typeof wayKinds)[number];
const kind = z.enum(wayKinds);
export const schema = z.strictObject({
  type: z.literal('take-way'), kind,
  changes: z.array(lengthSchema).max(WAY_CHANGES_MAX), removed: z.array(intervalId).max(WAY_CHANGES_MAX),
});
export type TakeWay = z.infer<typeof schema>;
export const eventSchema = z.strictObject({
  type: z.literal('way-taken'), at, kind, edit: editSchema,
  /** The movement that it leaves out, if it does. */
  leftOut: z.strictObject({ section: z.int().min(0), item: z.int().min(0) }).nullable(),
});
type WayTaken = z.infer<typeof eventSchema>;

export function decide(s: Session, command: TakeWay, now: ServerAt): Decided<WayTaken> {
  const h = here(s, null, now);
  if ('refused' in h) return h;
  const { index } = h.place;
  const place = new Map(s.intervals.map((i, k) => [i.id, k]));
  const named = [...command.removed, ...command.changes.map((c) => c.interval)];
  if (named.length === 0 || new Set(named).size !== named.length) return refuse('not-allowed-cut');
  if (named.some((id) => (place.get(id) ?? -1) <= index)) return refuse('too-late');
  const choice = menu(s, index).find((c) => namesAll(command.removed, c.removed));
  if (!choice || !allowed(s, command, choice.list, index)) return refuse('not-allowed-cut');
  const { kind: way, changes, removed } = command;
  const leftOut = choice.kind === 'movement' ? { section: choice.section, item: choice.n } : null;
  return { events: [{ type: 'way-taken', at: now, kind: way, edit: { changes, removed, added: [] }, leftOut }] };
}

/** @param list what the structural choice leaves, its set-ups raised */
function allowed(s: Session, command: TakeWay, list: readonly Interval[], index: number): boolean {
  const changes = new Map(command.changes.map((c) => [c.interval, c]));
  const own = new Map(s.intervals.map((i) => [i.id, i]));
  const shown = shownBy(s, index);
  const pairs = new Map<string, number>();
  let coolDownMs = 0;
  const fine = list.every((fitted, k) => {
    const before = own.get(fitted.id) as Interval;
    const c = changes.get(fitted.id);
    if (!c) return before.lengthMs === fitted.lengthMs;
    const i = changed(before, c);
    if (inCoolDown(s, i)) coolDownMs += Math.max(0, fitted.lengthMs - i.lengthMs);
    if (i.kind === 'work') {
      if (i.pair && i.side) pairs.set(i.pair, (pairs.get(i.pair) ?? 0) + (i.side === 'left' ? c.byMs : -c.byMs));
      return workAllowed(s, before, i);
    }
    if (i.lengthMs > fitted.lengthMs || i.lengthMs < leastMs(s, list, k, shown) || c.n !== undefined) return false;
    return i.ends === before.ends || (i.kind === 'show' && i.ends === 'clock');
  });
  return fine && coolDownMs <= coolDownSpareMs(s, list) && [...pairs.values()].every((ms) => ms === 0);
}

function workAllowed(s: Session, before: Interval, i: Interval): boolean {
  if (i.ends !== before.ends || s.plan.sections[i.section]?.kind !== 'main') return false;
  if (i.lengthMs > before.lengthMs) return i.lengthMs <= PLAN_MOST_S * 1_000 && i.lengthMs <= before.lengthMs * 2;
  return i.lengthMs >= leastWorkMs(s, i) && i.lengthMs > 0;
}

export const evolve = (s: Session, e: WayTaken): Session =>
  carryOut(s, e.edit, e.type, e.leftOut ? { replaced: { ...s.replaced, [`${e.leftOut.section}.${e.leftOut.item}`]: null } } : {});
