/** Owns every HTTP body: what is asked and what is answered under /api. */
import { z } from 'zod';
import { NOTE_MAX } from '../limits.ts';
import { movementSchema } from '../movement/movement.ts';
import { planSchema } from '../plan/plan.ts';
import { eventSchema } from '../session/command.ts';

export const problemSchema = z.strictObject({
  /** What is wrong, where, and what to do, in sentences. */
  error: z.string(),
  file: z.string().optional(),
  path: z.string().optional(),
});
export type ProblemBody = z.infer<typeof problemSchema>;

/** GET /api/health */
export const healthSchema = z.strictObject({
  version: z.string(),
  uptimeS: z.number(),
  database: z.enum(['writable', 'not writable']),
});

/** POST /api/pair: a screen's code for the right to command its room; the answer sets a cookie. */
export const pairSchema = z.strictObject({ code: z.string().regex(/^\d{6}$/, 'the code has six digits') });
export const pairedSchema = z.strictObject({ room: z.string() });

/** GET /api/plans: what can be started, and which files cannot be used and why. */
export const planSummarySchema = z.strictObject({
  id: z.string(), name: z.string(), group: z.string(), lengthMs: z.int(), workMs: z.int(), sections: z.int(),
  problem: z.string().nullable(),
});
export const plansSchema = z.strictObject({ plans: z.array(planSummarySchema), broken: z.array(problemSchema) });
export type PlanSummary = z.infer<typeof planSummarySchema>;
export type PlansBody = z.infer<typeof plansSchema>;

/** GET and PUT /api/plans/:id/cover: the note for whoever covers this class; empty takes it away. */
export const coverSchema = z.strictObject({ note: z.string().trim().max(NOTE_MAX) });

/** GET /api/plans/:id */
export const planBodySchema = planSchema;

/** GET /api/plans/:id/shows?instructor=...: what its shows usually take, learned from the log; nothing of a movement that nobody has shown. */
export const showsSchema = z.strictObject({
  shows: z.array(z.strictObject({
    movement: z.string(), plannedMs: z.int(), usuallyMs: z.int(), of: z.int(),
    /** The instructor's own, or everybody's because there are none of their own. */
    from: z.enum(['own', 'everybody']),
  })),
});
export type ShowsBody = z.infer<typeof showsSchema>;

/** GET /api/movements */
export const movementsSchema = z.strictObject({ movements: z.array(movementSchema), broken: z.array(problemSchema) });
export type MovementsBody = z.infer<typeof movementsSchema>;

/**
 * POST /api/movements with one of the studio's own, without its picture, answers it as it was kept;
 * PUT /api/movements/:id/picture with the bytes of a picture or a clip answers it with that. Both need
 * the cookie of a phone or desk that was paired.
 */
export const movementBodySchema = movementSchema;

/** GET /api/classes?before=...&limit=...: the log, newest first. */
export const classSummarySchema = z.strictObject({
  id: z.string(), room: z.string(), plan: z.string(), name: z.string(),
  startedAt: z.int(), endedAt: z.int().nullable(), how: z.enum(['ended', 'ran-out', 'forgotten', 'running']),
  headCount: z.int().nullable(),
});
export type ClassSummary = z.infer<typeof classSummarySchema>;
export const classesSchema = z.strictObject({
  studio: z.strictObject({ name: z.string(), timeZone: z.string() }),
  /** Rooms that the studio has now; a class knows only the id of its own. */
  rooms: z.array(z.strictObject({ id: z.string(), name: z.string() })),
  classes: z.array(classSummarySchema),
  /** Ask again with this for the older ones; null at the end. */
  before: z.int().nullable(),
});
export type ClassesBody = z.infer<typeof classesSchema>;

/** GET /api/classes/:id: everything that happened; the page folds it as screens do. */
export const classBodySchema = z.strictObject({
  id: z.string(),
  studio: z.strictObject({ name: z.string(), timeZone: z.string() }),
  now: z.int(),
  events: z.array(eventSchema),
});
export type ClassBody = z.infer<typeof classBodySchema>;
