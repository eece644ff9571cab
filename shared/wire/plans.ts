/** Owns the bodies of planning over HTTP: keeping plans with their revisions, their former versions, the bin, the timetable. */
import { z } from 'zod';
import { planSchema } from '../plan/plan.ts';
import { entrySchema, timetableSchema } from '../plan/timetable.ts';

/** Names one version of a plan; the same plan has the same one. */
export const revisionSchema = z.string().regex(/^[a-f0-9]{16}$/, 'a revision is what the server last answered');

/** GET /api/plans/:id/kept, and the answer to keeping one. */
export const keptSchema = z.strictObject({
  plan: planSchema,
  revision: revisionSchema,
  /** Whether the studio wrote it itself; what came with Hallclock comes back when its own is put into the bin. */
  own: z.boolean(),
  /** What somebody else had changed meanwhile and was brought together with this, in words. */
  taken: z.array(z.string()),
});
export type KeptBody = z.infer<typeof keptSchema>;

/** PUT /api/plans/:id. `beside` is kept among the former versions: what somebody wrote at home and did not take whole. */
export const putPlanSchema = z.strictObject({ base: revisionSchema, plan: planSchema, beside: planSchema.optional() });
export type PutPlanBody = z.infer<typeof putPlanSchema>;
/** 409 of it: both versions are there, nothing was overwritten. */
export const conflictSchema = z.strictObject({
  error: z.string(), conflicts: z.array(z.string()), theirs: planSchema, revision: revisionSchema,
});
export type ConflictBody = z.infer<typeof conflictSchema>;

/** GET /api/plans/:id/versions, newest first. */
export const versionsSchema = z.strictObject({ versions: z.array(z.strictObject({ revision: revisionSchema, at: z.int(), name: z.string(), lengthMs: z.int() })) });
/** GET /api/bin; DELETE /api/plans/:id answers the one line. */
export const binnedSchema = z.strictObject({ file: z.string(), id: z.string(), name: z.string(), at: z.int() });
export const binSchema = z.strictObject({ plans: z.array(binnedSchema) });

/** POST /api/plans/:id/editing: I am here; who else is, and what is the newest. */
export const editingSchema = z.strictObject({ editor: z.uuid() });
export const editorsSchema = z.strictObject({ others: z.int(), revision: revisionSchema.nullable() });

/** GET /api/timetable; PUT sends it back with the revision it began with. */
export const timetableBodySchema = z.strictObject({
  revision: revisionSchema, entries: z.array(entrySchema), timeZone: z.string(), today: z.string(),
  rooms: z.array(z.strictObject({ id: z.string(), name: z.string() })),
});
export type TimetableBody = z.infer<typeof timetableBodySchema>;
export const putTimetableSchema = z.strictObject({ base: revisionSchema, entries: timetableSchema.shape.entries });
export type PutTimetableBody = z.infer<typeof putTimetableSchema>;

/** GET /api/rooms/:room/due: the class that is due now, if one is. */
export const dueSchema = z.strictObject({ due: z.strictObject({ plan: z.string(), startAt: z.int(), endAt: z.int() }).nullable() });
