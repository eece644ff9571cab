/** Owns the HTTP bodies of the chain's view: all houses now, and the review over all of them, with the same figures as one studio's. */
import { z } from 'zod';
import { exportSchema, groupSchema, liveClassSchema, reviewQuerySchema, reviewSchema } from './review.ts';

const house = z.strictObject({ key: z.string(), name: z.string() });

/** GET /api/all/live */
export const allLiveSchema = z.strictObject({
  now: z.int(),
  houses: z.array(z.strictObject({
    id: z.string(), name: z.string(), timeZone: z.string(),
    /** When its own server was last heard, where it has one that reports here: what is told of it is as of then. */
    heardAt: z.number().nullable(),
    rooms: z.array(z.strictObject({ id: z.string(), name: z.string(), pattern: z.int(), class: liveClassSchema.nullable() })),
  })),
});
export type AllLive = z.infer<typeof allLiveSchema>;

/** GET /api/all/review; room and series are named with their house before them: "north/garden". */
export const allReviewQuerySchema = z.strictObject({ ...reviewQuerySchema.shape, house: z.string().max(20).optional() });
/** The same figures as of one studio, in which every house is; and by house. */
export const allReviewSchema = z.strictObject({ ...reviewSchema.shape, choices: z.strictObject({ ...reviewSchema.shape.choices.shape, houses: z.array(house) }), houses: z.array(groupSchema) });
export type AllReview = z.infer<typeof allReviewSchema>;

/** GET /api/all/export.json: the house is the first column. */
export const allExportSchema = exportSchema;
