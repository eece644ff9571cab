/** Owns the HTTP bodies of the review: what one class came to in figures, many classes together, all rooms now, effort. */
import { z } from 'zod';
import { RATING_MOST } from '../effort/load.ts';

const ms = z.number();
const count = z.int().min(0);
const studio = z.strictObject({ name: z.string(), timeZone: z.string() });

/** Null while there are fewer than three answers, and while more may come. */
export const effortSchema = z.strictObject({ answers: count, mean: z.number() }).nullable();

/** One movement in one class, or in many. Milliseconds, and how often. */
export const moveSchema = z.strictObject({
  movement: z.string(), name: z.string(), workMs: ms, formStops: count,
  /** Shows that were ended by go, what the plan said of them and what they took. */
  shows: count, showPlannedMs: ms, showRealMs: ms,
  /** Work that was planned and not done. */
  cutMs: ms,
});
export type Move = z.infer<typeof moveSchema>;

export const sectionKinds = ['welcome', 'warm-up', 'main', 'cool-down', 'clear-up'] as const;

/** What is kept of one class beside its log, made from the log: nothing in it names anybody. */
export const recordSchema = z.strictObject({
  id: z.string(), room: z.string(), plan: z.string(), name: z.string(),
  /** The series that the plan says it is of, "* Spring legs"; else same room, day of the week and quarter of an hour: "garden 1 18:15". */
  series: z.string(),
  startedAt: z.int(), endedAt: z.int(),
  /** Days since 1 January 1970 and minutes since midnight, in the studio's own time. */
  day: z.int(), minute: z.int(),
  how: z.enum(['ended', 'ran-out', 'forgotten']),
  headCount: count.nullable(),
  plannedMs: ms, totalMs: ms, workMs: ms, pausedMs: ms, pauses: count, formStops: count, showPlannedMs: ms, showRealMs: ms,
  /** How much later than promised it ended; less than 0 is early. */
  lateMs: ms,
  /** Where somebody said when the floor must be free: late from the start, and what came to it on the way. */
  lateStartMs: ms.nullable(), grewMs: ms.nullable(),
  /** Whether anything was cut because it was late, or it began or ended late. */
  late: z.boolean(),
  cutMs: ms, moderateMs: ms, vigorousMs: ms, muscle: z.boolean(), balance: z.boolean(), kcalPerKg: z.number(),
  effort: effortSchema,
});
export type ClassRecord = z.infer<typeof recordSchema>;

/** GET /api/classes/:id/record; a record is null while the class runs, where it was stopped, or where its log cannot be read. */
export const recordBodySchema = z.strictObject({
  record: recordSchema.nullable(), toRead: count,
  /** While answers are open: until when, "20:15". What they come to is told from then on. */
  answersUntil: z.string().nullable(),
});
export type RecordBody = z.infer<typeof recordBodySchema>;

/** What is asked of many classes: GET /api/review?from=2026-05-04&to=2026-07-26&room=...&plan=...&series=...&movement=... */
const date = z.string().regex(/^\d{4}-\d{2}-\d{2}$/, 'a day looks like 2026-05-04');
export const reviewQuerySchema = z.strictObject({
  from: date.optional(), to: date.optional(), room: z.string().max(90).optional(), plan: z.string().max(80).optional(), series: z.string().max(150).optional(), movement: z.string().max(60).optional(),
});
export type ReviewQuery = z.infer<typeof reviewQuerySchema>;

export const spreadSchema = z.strictObject({
  of: count,
  /** Classes with more than a minute of it, and the middle and the ninetieth of a hundred of those. */
  more: count, medianMs: ms.nullable(), ninetiethMs: ms.nullable(),
  /** Counts in whole minutes from `firstMin` on; the ends hold all beyond them. */
  firstMin: z.int(), bins: z.array(count),
});
export type Spread = z.infer<typeof spreadSchema>;

const sumsSchema = {
  held: count, workMs: ms, totalMs: ms,
  /** Work at the movement that is chosen; 0 where none is. Stops for form are then those at it. */
  moveMs: ms, heads: count, headClasses: count, rated: count, load: z.number(),
  lateOf: count, lateStart: count, grew: count, formStops: count,
};
export const weekSchema = z.strictObject({
  /** Day number of its Monday. */
  monday: z.int(), ...sumsSchema,
  /** Of rated classes only: null where it is not defined. */
  monotony: z.number().nullable(), strain: z.number().nullable(),
  moderateMs: ms, vigorousMs: ms, muscleDays: count, balanceDays: count, kcalPerKg: z.number(),
});
export type ReviewWeek = z.infer<typeof weekSchema>;
export const groupSchema = z.strictObject({ key: z.string(), name: z.string(), ...sumsSchema });
export type Group = z.infer<typeof groupSchema>;

const choice = z.strictObject({ key: z.string(), name: z.string() });
export const reviewSchema = z.strictObject({
  studio,
  /** Days as asked or as chosen for the page; both are in it. */
  from: z.int(), to: z.int(),
  /** The first and the last day that there is anything of. */
  first: z.int().nullable(), last: z.int().nullable(),
  /** Classes that are still being read; 0 when all are in. */
  toRead: count,
  /** The movement that is chosen: only classes that have it are in any figure, and of the moves only this one. */
  movement: choice.nullable(),
  held: count, stopped: count,
  choices: z.strictObject({ rooms: z.array(choice), plans: z.array(choice), series: z.array(choice), movements: z.array(choice) }),
  weeks: z.array(weekSchema),
  rooms: z.array(groupSchema), plans: z.array(groupSchema), series: z.array(groupSchema),
  moves: z.array(moveSchema),
  lateStart: spreadSchema, grew: spreadSchema,
  /** In classes that were late: planned work that was not done, by section and by movement. */
  cuts: z.strictObject({
    classes: count,
    sections: z.array(z.strictObject({ kind: z.enum(sectionKinds), ms, plannedMs: ms })),
    moves: z.array(z.strictObject({ movement: z.string(), name: z.string(), ms, classes: count })),
  }),
});
export type Review = z.infer<typeof reviewSchema>;

/** A class that runs, or ended a moment ago. */
export const liveClassSchema = z.strictObject({
  id: z.string(), name: z.string(), startedAt: z.int(), promisedAt: z.int(), projectedAt: z.int(),
  /** Null where nobody counted. */
  headCount: count.nullable(), title: z.string(),
  /** Whether it has ended, a moment ago. */
  over: z.boolean(), paused: z.boolean(),
});
export type LiveClass = z.infer<typeof liveClassSchema>;
/** GET /api/live: all rooms now. */
export const liveSchema = z.strictObject({
  studio, now: z.int(),
  rooms: z.array(z.strictObject({
    id: z.string(), name: z.string(), pattern: z.int(),
    class: liveClassSchema.nullable(),
  })),
});
export type Live = z.infer<typeof liveSchema>;

/** GET /api/answers/:id: what the page of the one question says; POST the answer. Nothing of who sends it is kept. */
export const questionSchema = z.strictObject({
  name: z.string(), studio: z.string(),
  /** When no more answers are taken: server time in milliseconds, to be written as the phone's language writes it. */
  untilAt: z.number(), timeZone: z.string(),
  /** The studio's, for a phone that speaks none of ours. */
  language: z.string(),
});
export const answerSchema = z.strictObject({ rating: z.int().min(0).max(RATING_MOST) });
export const answeredSchema = z.strictObject({ thanks: z.literal(true) });
/** DELETE /api/classes/:id */
export const deletedSchema = z.strictObject({ deleted: z.literal(true) });

/** A cell of a table as data: nothing is known where it is null. */
const cell = z.union([z.string(), z.number(), z.boolean(), z.null()]);
/** GET /api/export.json?from=...&to=...: a row each, oldest first; the columns are those of the table. */
export const exportSchema = z.strictObject({ studio: z.string(), from: date, to: date, columns: z.array(z.string()), classes: z.array(z.array(cell)) });

/** GET /api/classes/:id/class.json: one class as data. Seconds, and instants as RFC 3339 in the studio's own time. */
const instant = z.iso.datetime({ offset: true });
const seconds = z.number();
export const classDataSchema = z.strictObject({
  class: z.string(), room: z.string(), plan: z.string(), name: z.string(), headCount: count.nullable(),
  started: instant, ended: instant.nullable(), how: z.enum(['ended', 'ran-out', 'forgotten', 'running']),
  promised: instant, lateS: seconds, plannedS: seconds, lengthS: seconds,
  /** By what it was spent on. */
  timeS: z.record(z.string(), seconds),
  pauses: z.array(z.strictObject({ at: instant, lengthS: seconds, reason: z.string().nullable(), in: z.string() })),
  changes: z.array(z.strictObject({ at: instant, what: z.string() })),
  sides: z.array(z.strictObject({ movement: z.string(), round: count, leftS: seconds, rightS: seconds, owed: z.enum(['left', 'right']).nullable() })),
  notes: z.array(z.strictObject({ at: instant, text: z.string() })),
  effort: effortSchema, energyKcal: z.strictObject({ low: z.number(), high: z.number() }).nullable(),
  intervals: z.array(z.record(z.string(), cell)),
  inWords: z.strictObject({ length: z.string() }),
});
