/**
 * Owns bringing two versions of one timetable together that began as the same, line by line: what only one of them
 * changed is taken; what both changed otherwise stays as it is here until somebody chose. Lines are matched by their ids.
 */
import { same } from './merge-fields.ts';
import type { Entry } from './timetable.ts';

export interface LineConflict {
  readonly id: string;
  /** Null where it is not there. */
  readonly ours: Entry | null;
  readonly theirs: Entry | null;
}
export interface MergedTimetable {
  readonly entries: readonly Entry[];
  readonly conflicts: readonly LineConflict[];
}

/** What is said together: a day of one and an hour of the other would be a time that nobody meant. */
const whenOf = ({ day, at, weekly, until }: Entry) => ({ day, at, weekly, until });

/** A value of which one changed it, or neither; null where both did, otherwise. */
function either<T>(base: T | undefined, ours: T, theirs: T): { readonly value: T } | null {
  if (same(ours, theirs) || (base !== undefined && same(base, theirs))) return { value: ours };
  return base !== undefined && same(base, ours) ? { value: theirs } : null;
}

/** A line that both have. Null where both changed the same of it. */
function mergeLine(base: Entry | undefined, ours: Entry, theirs: Entry): Entry | null {
  const when = either(base && whenOf(base), whenOf(ours), whenOf(theirs));
  const plan = either(base?.plan, ours.plan, theirs.plan);
  const room = either(base?.room, ours.room, theirs.room);
  const minutes = either(base?.minutes, ours.minutes, theirs.minutes);
  if (!when || !plan || !room || !minutes) return null;
  const was = new Set(base?.not ?? []);
  // Days off are a set: each is said or taken back by itself.
  const not = [...new Set([...ours.not, ...theirs.not])].filter((d) => !was.has(d) || (ours.not.includes(d) && theirs.not.includes(d))).sort();
  const { day, at, weekly, until } = when.value;
  return { id: ours.id, plan: plan.value, room: room.value, day, at, minutes: minutes.value, weekly, ...(until === undefined ? {} : { until }), not };
}

/** @param base what both began with @param chosen whose a line is that both changed, by its id */
export function mergeTimetables(base: readonly Entry[], ours: readonly Entry[], theirs: readonly Entry[], chosen: Readonly<Record<string, 'ours' | 'theirs'>> = {}): MergedTimetable {
  const byId = (list: readonly Entry[]) => new Map(list.map((e) => [e.id, e]));
  const [b, o, t] = [byId(base), byId(ours), byId(theirs)];
  const entries: Entry[] = [];
  const conflicts: LineConflict[] = [];
  for (const id of new Set([...o.keys(), ...t.keys()])) {
    const [was, own, other] = [b.get(id), o.get(id) ?? null, t.get(id) ?? null];
    const line = own && other ? mergeLine(was, own, other)
      : !was ? own ?? other
        : same(was, own ?? other) ? 'out' : null;
    if (line === 'out') continue;
    if (line) {
      entries.push(own && same(own, line) ? own : line);
      continue;
    }
    const stays = chosen[id] === 'theirs' ? other : own;
    if (chosen[id] === undefined) conflicts.push({ id, ours: own, theirs: other });
    if (stays) entries.push(stays);
  }
  return { entries, conflicts };
}
