/**
 * Owns the timetable: which plan runs when in which room, once or every week, and which
 * class is due. Days and times are those of the studio's walls; an instant is given with
 * its zone. Leaves alone who starts it.
 */
import { z } from 'zod';
import { CLASS_MOST_S, DUE_AFTER_MS, DUE_BEFORE_MS, TIMETABLE_MAX } from '../limits.ts';
import type { ServerAt } from '../time/units.ts';
import { dayAfter, dayOf, daysBetween, instantOf } from '../time/wall.ts';

const id = z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'an id is small letters, digits and single hyphens').max(60);
const day = z.string().regex(/^20\d\d-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/, 'a day is written 2026-11-25')
  .refine((d) => !Number.isNaN(Date.parse(`${d}T00:00Z`)) && new Date(Date.parse(`${d}T00:00Z`)).toISOString().startsWith(d), 'there is no such day');
const timeOfDay = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'a time is written 18:30');

export const entrySchema = z.strictObject({
  id,
  plan: id,
  room: id,
  /** The day it runs, or the first of them. */
  day,
  at: timeOfDay,
  /** Minutes the floor is ours. */
  minutes: z.int().min(1).max(CLASS_MOST_S / 60, `at most ${CLASS_MOST_S / 60} minutes`),
  weekly: z.boolean().default(false),
  /** The last day, where it does not go on for ever. */
  until: day.optional(),
  /** Days on which it does not run. */
  not: z.array(day).max(60).default([]),
}).superRefine((e, ctx) => {
  if (e.until !== undefined && e.until < e.day) ctx.addIssue({ code: 'custom', path: ['until'], message: 'the last day is before the first' });
});
export type Entry = z.infer<typeof entrySchema>;

export const timetableSchema = z.strictObject({ entries: z.array(entrySchema).max(TIMETABLE_MAX) }).superRefine((t, ctx) => {
  const seen = new Set<string>();
  t.entries.forEach((e, i) => {
    if (seen.has(e.id)) ctx.addIssue({ code: 'custom', path: ['entries', i, 'id'], message: `the id "${e.id}" is used twice` });
    seen.add(e.id);
  });
});
export type Timetable = z.infer<typeof timetableSchema>;

export interface Occurrence { readonly entry: Entry; readonly day: string; readonly startAt: ServerAt; readonly endAt: ServerAt }

/** What runs on the days from `from` on, in the order of their starts. */
export function occurrences(entries: readonly Entry[], from: string, days: number, timeZone: string): Occurrence[] {
  const last = dayAfter(from, days - 1);
  return entries.flatMap((entry) => {
    const on: string[] = [];
    if (!entry.weekly) on.push(entry.day);
    else {
      const skip = Math.max(0, Math.ceil(daysBetween(entry.day, from) / 7));
      for (let d = dayAfter(entry.day, skip * 7); d <= last; d = dayAfter(d, 7)) on.push(d);
    }
    return on.filter((d) => d >= from && d <= last && (entry.until === undefined || d <= entry.until) && !entry.not.includes(d)).map((d) => {
      const startAt = instantOf(d, entry.at, timeZone);
      return { entry, day: d, startAt, endAt: (startAt + entry.minutes * 60_000) as ServerAt };
    });
  }).sort((a, b) => a.startAt - b.startAt || (a.entry.id < b.entry.id ? -1 : 1));
}

/** The class of a room that is due: begun or to begin within a while, the one that starts nearest to now. */
export function dueIn(entries: readonly Entry[], room: string, timeZone: string, now: ServerAt): Occurrence | null {
  const today = dayOf(now, timeZone);
  return occurrences(entries.filter((e) => e.room === room), dayAfter(today, -1), 3, timeZone)
    .filter((o) => o.startAt - DUE_BEFORE_MS <= now && now <= Math.min(o.endAt, o.startAt + DUE_AFTER_MS))
    .sort((a, b) => Math.abs(a.startAt - now) - Math.abs(b.startAt - now))[0] ?? null;
}

/** Two classes that want one room at the same time, this week and the next. */
export function clashes(entries: readonly Entry[], from: string, timeZone: string): { readonly one: Occurrence; readonly other: Occurrence }[] {
  const all = occurrences(entries, from, 14, timeZone);
  return all.flatMap((one, k) => all.slice(k + 1).filter((other) => other.entry.room === one.entry.room && other.startAt < one.endAt && other.entry.id !== one.entry.id).map((other) => ({ one, other })));
}
