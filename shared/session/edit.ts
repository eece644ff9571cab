/**
 * Owns a change of the list of intervals as data: lengths, what goes out, what
 * comes in. It is found by comparing two lists, carried out on one, and taken
 * back by its opposite. Leaves alone which changes are allowed (commands/).
 */
import { z } from 'zod';
import { type Interval, intervalSchema } from '../plan/interval.ts';
import type { Session, Sums } from './session.ts';

const id = z.string().min(1).max(80);
export const lengthSchema = z.strictObject({
  interval: id,
  byMs: z.int(),
  /** What it ends on from now on, where that changes. */
  ends: z.enum(['clock', 'go']).optional(),
  /** What its target comes to, where that changes. */
  n: z.int().min(1).optional(),
});
export type LengthChange = z.infer<typeof lengthSchema>;
export const editSchema = z.strictObject({
  changes: z.array(lengthSchema),
  removed: z.array(id),
  added: z.array(z.strictObject({ after: id, intervals: z.array(intervalSchema).min(1) })),
});
export type Edit = z.infer<typeof editSchema>;

/** The last change of the list, while it can be taken back. */
export interface Change {
  readonly number: number;
  readonly what: string;
  /** The edit that takes it back. */
  readonly back: Edit;
  /** What it left changed or put in, as it left them. */
  readonly left: readonly Interval[];
  /** Where it took something out: between this and that; null is the end. */
  readonly gaps: readonly { readonly after: string; readonly before: string | null }[];
  readonly was: Pick<Session, 'facts' | 'replaced' | 'standing'>;
}

export function changed(i: Interval, c: LengthChange): Interval {
  const target = c.n !== undefined && i.target ? { target: { ...i.target, n: c.n } } : {};
  return { ...i, lengthMs: i.lengthMs + c.byMs, ends: c.ends ?? i.ends, ...target };
}

/** The list after an edit; the order of what stays is kept. */
export function edited(list: readonly Interval[], edit: Edit): Interval[] {
  const removed = new Set(edit.removed);
  const changes = new Map(edit.changes.map((c) => [c.interval, c]));
  const added = new Map(edit.added.map((a) => [a.after, a.intervals]));
  return list.flatMap((i) => {
    const c = changes.get(i.id);
    const own = removed.has(i.id) ? [] : [c ? changed(i, c) : i];
    const more = added.get(i.id);
    return more ? [...own, ...more] : own;
  });
}

/** The edit that leads from one list to another. What stays keeps its order, and the first stays. */
export function editBetween(from: readonly Interval[], to: readonly Interval[]): Edit {
  const was = new Map(from.map((i) => [i.id, i]));
  const kept = new Set(to.map((i) => i.id));
  const changes: LengthChange[] = [];
  const added: { after: string; intervals: Interval[] }[] = [];
  let after = '';
  for (const i of to) {
    const old = was.get(i.id);
    if (!old) {
      const last = added.at(-1);
      if (last?.after === after) last.intervals.push(i);
      else added.push({ after, intervals: [i] });
      continue;
    }
    after = i.id;
    if (old === i || same(old, i)) continue;
    const n = i.target && i.target.n !== old.target?.n ? { n: i.target.n } : {};
    changes.push({ interval: i.id, byMs: i.lengthMs - old.lengthMs, ...(i.ends === old.ends ? {} : { ends: i.ends }), ...n });
  }
  return { changes, removed: from.filter((i) => !kept.has(i.id)).map((i) => i.id), added };
}

const same = (a: Interval, b: Interval): boolean => a.lengthMs === b.lengthMs && a.ends === b.ends && a.target?.n === b.target?.n;

/** Milliseconds of clocked intervals that an edit of this list extends, adds and drops. */
export function booked(list: readonly Interval[], edit: Edit): Pick<Sums, 'extended' | 'added' | 'dropped'> {
  const known = new Map(list.map((i) => [i.id, i]));
  const clocked = (i: Interval | undefined) => (i?.ends === 'clock' ? i.lengthMs : 0);
  const sum = { extended: 0, added: 0, dropped: 0 };
  for (const c of edit.changes) {
    const i = known.get(c.interval);
    if (!i) continue;
    const [before, now] = [clocked(i), clocked(changed(i, c))];
    if (before > 0 && now > 0) sum.extended += now - before;
    else if (now > 0) sum.added += now;
    else sum.dropped += before;
  }
  for (const removed of edit.removed) sum.dropped += clocked(known.get(removed));
  for (const { intervals } of edit.added) for (const i of intervals) sum.added += clocked(i);
  return sum;
}

/** Carries out an edit and keeps what takes it back. */
export function carryOut(s: Session, edit: Edit, what: string, also: Partial<Pick<Session, 'facts' | 'replaced'>> = {}): Session {
  const intervals = edited(s.intervals, edit);
  const sum = booked(s.intervals, edit);
  const { sums, facts, replaced, standing } = s;
  const number = s.changes + 1;
  const back = editBetween(intervals, s.intervals);
  const named = new Set([...back.changes.map((c) => c.interval), ...back.removed]);
  const change: Change = {
    number, what, back, was: { facts, replaced, standing },
    left: intervals.filter((i) => named.has(i.id)),
    gaps: back.added.map(({ after }) => ({ after, before: followerOf(intervals, after) })),
  };
  return {
    ...s, ...also, intervals, changes: number, change,
    sums: { ...sums, extended: sums.extended + sum.extended, added: sums.added + sum.added, dropped: sums.dropped + sum.dropped },
  };
}

/** Takes back the last change; what it booked is as if it had never been. */
export function takeBack(s: Session, edit: Edit): Session {
  const sum = booked(s.intervals, edit);
  const { sums } = s;
  return {
    ...s, ...s.change?.was, intervals: edited(s.intervals, edit), change: null,
    sums: { ...sums, extended: sums.extended + sum.extended, added: sums.added - sum.dropped, dropped: sums.dropped - sum.added },
  };
}

function followerOf(list: readonly Interval[], after: string): string | null {
  const k = list.findIndex((i) => i.id === after);
  return list[k + 1]?.id ?? null;
}

/** Whether something that the last change touched has begun, at the interval with this index. */
function begun(s: Session, change: Change, index: number): boolean {
  const place = new Map(s.intervals.map((i, k) => [i.id, k]));
  return change.left.some((i) => (place.get(i.id) ?? Number.POSITIVE_INFINITY) <= index)
    || change.gaps.some((g) => (place.get(g.after) ?? Number.POSITIVE_INFINITY) < index);
}

/** A session, settled, that has let go of its last change once something of it has begun. */
export const lapse = (s: Session): Session =>
  (s.change && (s.over || begun(s, s.change, s.anchor.index)) ? { ...s, change: null } : s);

/** Whether what the last change touched is still as it left it. */
export function stands(s: Session, change: Change): boolean {
  const now = new Map(s.intervals.map((i) => [i.id, i]));
  return change.left.every((i) => { const n = now.get(i.id); return n !== undefined && same(n, i); })
    && change.gaps.every((g) => now.has(g.after) && followerOf(s.intervals, g.after) === g.before);
}
