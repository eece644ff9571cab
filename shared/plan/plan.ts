/**
 * Owns the class plan as it is written down: sections, movements and the few
 * fields of the trade, each with a default that nobody has to see. Leaves alone
 * how a plan becomes a clock (compile.ts) and whether it is wise (coach).
 */
import { z } from 'zod';
import {
  CLASS_MOST_S, NAME_MAX, NOTE_MAX, PLAN_LEAST_S, PLAN_MOST_S, ROUNDS_MAX, SECTION_ITEMS_MAX, SECTIONS_MAX,
  SERIES_MAX, WAIVERS_MAX,
} from '../limits.ts';

/** Seconds in a plan: tenths at the finest, one second to an hour. */
const seconds = z
  .number()
  .min(PLAN_LEAST_S, `at least ${PLAN_LEAST_S} s`)
  .max(PLAN_MOST_S, `at most ${PLAN_MOST_S} s (an hour)`)
  .refine((s) => Math.abs(s * 10 - Math.round(s * 10)) < 1e-6, 'tenths of a second at the finest');
/** Seconds that may be none at all. */
const secondsOrNone = z.union([z.literal(0), seconds]);
const id = z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'an id is small letters, digits and single hyphens').max(60);
const count = z.int().min(1).max(200);

export const sectionKinds = ['welcome', 'warm-up', 'main', 'cool-down', 'clear-up'] as const;
export const ways = ['together', 'follow-me', 'stations'] as const;
export const sidesWays = ['together', 'alternating', 'half', 'full', 'by-round'] as const;
export const shows = ['none', 'each', 'all-first', 'in-the-rest'] as const;
/** Who comes, as a label of the class; never about a named person. */
export const groups = ['general', 'beginners', 'older-adults', 'pregnancy', 'returning'] as const;
/** The one thing that a series makes harder from session to session. */
export const levers = ['seconds', 'rounds', 'rest', 'option'] as const;

/** What an interval that ends on go aims at; its seconds are then an estimate. */
const target = z.discriminatedUnion('of', [
  z.strictObject({ of: z.literal('reps'), n: count }),
  z.strictObject({ of: z.literal('breaths'), n: count }),
]);

/** What may be said for a section and said otherwise for one movement of it. */
const timing = {
  /** Seconds of work. With sides "half" both sides share it; with "full" each side has it. */
  work: seconds.optional(),
  /** Seconds from the end of one work to the start of the next; holds the set-up and the count-in. */
  rest: secondsOrNone.optional(),
  /** Seconds of set-up, where the positions should not decide it. 0: straight into work. */
  setUp: secondsOrNone.optional(),
  ends: z.enum(['clock', 'go']).optional(),
  target: target.optional(),
  sides: z.enum(sidesWays).optional(),
  /** Which side comes first; "changes" is right in the first round, then the other each round. */
  lead: z.enum(['right', 'left', 'changes']).optional(),
};

export const itemSchema = z.strictObject({
  movement: id,
  ...timing,
  /** Whether this movement is shown first; the section's `show` says when. */
  show: z.boolean().optional(),
});
export type Item = z.infer<typeof itemSchema>;

/** A plain number of rounds, or a ladder: seconds or counts, one for each round. */
const roundsSchema = z.union([
  z.int().min(1).max(ROUNDS_MAX),
  z.strictObject({ seconds: z.array(seconds).min(1).max(ROUNDS_MAX) }),
  z.strictObject({ reps: z.array(count).min(1).max(ROUNDS_MAX) }),
]);
export type Rounds = z.infer<typeof roundsSchema>;

export const sectionSchema = z.strictObject({
  id,
  kind: z.enum(sectionKinds),
  name: z.string().trim().min(1).max(NAME_MAX).optional(),
  way: z.enum(ways).default('together'),
  rounds: roundsSchema.default(1),
  ...timing,
  show: z.enum(shows).optional(),
  /** Estimated seconds of one show, which ends on go. */
  showEstimate: seconds.default(20),
  /** Whether the rest after the last work counts (papers differ). It holds the next section's set-up. */
  lastRest: z.boolean().default(true),
  /** Estimated seconds of a section that is talk; it ends on go. */
  talk: seconds.optional(),
  items: z.array(itemSchema).max(SECTION_ITEMS_MAX).default([]),
}).superRefine((s, ctx) => {
  const say = (path: (string | number)[], message: string) => ctx.addIssue({ code: 'custom', path, message });
  if (s.talk === undefined && s.items.length === 0) say(['items'], 'a section needs movements, or "talk" with its seconds');
  if (s.talk !== undefined && s.items.length > 0) say(['talk'], 'a section is either talk or movements, not both');
  if (s.talk === undefined && s.work === undefined && typeof s.rounds === 'number') {
    if (s.way === 'follow-me') say(['work'], 'a follow-me block needs its length as "work" of the section');
    s.items.forEach((item, i) => {
      if (s.way !== 'follow-me' && item.work === undefined) {
        say(['items', i, 'work'], 'seconds of work are missing, here and in the section');
      }
    });
  }
  if (s.talk === undefined && typeof s.rounds === 'object' && 'reps' in s.rounds && s.way !== 'together') {
    say(['rounds'], 'a ladder of counts is done together; stations and follow me keep the clock');
  }
  if (s.way === 'stations' && s.items.length < 2) say(['items'], 'stations need at least two movements');
});
export type Section = z.infer<typeof sectionSchema>;

/** A rule of the coach that somebody has looked at and set aside for this plan, or for one place in it. */
export const waiverSchema = z.strictObject({
  rule: id,
  /** Where it is waived; a waiver that names no section holds for the whole plan. */
  where: z.strictObject({ section: id.optional(), movement: id.optional() }).default({}),
  reason: z.string().trim().min(1, 'a waiver needs its reason').max(NOTE_MAX),
});
export type Waiver = z.infer<typeof waiverSchema>;

/** Which one of a numbered series this is, and how the series grows. */
export const seriesSchema = z.strictObject({
  name: z.string().trim().min(1).max(NAME_MAX),
  number: z.int().min(1).max(SERIES_MAX),
  lever: z.enum(levers).optional(),
});
export type Series = z.infer<typeof seriesSchema>;

/**
 * Format 1, and what it grew by. Each step only added fields that may be missing,
 * so that every older file and log is read as it was:
 * - first: name, note, group, slot, sections.
 * - with the coach: `waived`, `series`; the groups "pregnancy" and "returning".
 */
export const PLAN_FORMAT = 1;

export const planSchema = z.strictObject({
  format: z.literal(PLAN_FORMAT, { error: (issue) => typeof issue.input === 'number' && issue.input > PLAN_FORMAT
    ? `this plan is of format ${issue.input}, written by a newer Hallclock; this one reads format ${PLAN_FORMAT}`
    : `the format must be ${PLAN_FORMAT}` }),
  id,
  name: z.string().trim().min(1, 'a plan needs a name').max(NAME_MAX),
  note: z.string().trim().max(NOTE_MAX).optional(),
  /** Left for whoever covers this class: what to know of it, no names. */
  forCover: z.string().trim().max(NOTE_MAX).optional(),
  group: z.enum(groups).default('general'),
  /** Seconds the floor is ours; the class should end inside it. */
  slot: z.number().int().min(60).max(CLASS_MOST_S).optional(),
  series: seriesSchema.optional(),
  waived: z.array(waiverSchema).max(WAIVERS_MAX).optional(),
  sections: z.array(sectionSchema).min(1, 'a plan needs at least one section').max(SECTIONS_MAX),
}).superRefine((p, ctx) => {
  const seen = new Set<string>();
  p.sections.forEach((s, i) => {
    if (seen.has(s.id)) ctx.addIssue({ code: 'custom', path: ['sections', i, 'id'], message: `the section id "${s.id}" is used twice` });
    seen.add(s.id);
  });
});
export type Plan = z.infer<typeof planSchema>;
/** A plan as somebody writes it, defaults left out. */
export type PlanInput = z.input<typeof planSchema>;
