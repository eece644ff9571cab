/**
 * Owns what people said at the door, as counts: who is here today. For phones only, in the
 * server's memory, for this class only; never for a screen, the log or a backup.
 */
import { z } from 'zod';
import { HEAD_COUNT_MAX } from '../limits.ts';
import { needs } from '../movement/movement.ts';
import { atSchema } from './session.ts';

export const saids = ['new', ...needs] as const;
export const saidSchema = z.enum(saids);
/** New here, or one of the needs that movements have options for. */
export type Said = z.infer<typeof saidSchema>;

export const countSchema = z.int().min(0).max(HEAD_COUNT_MAX);
export const hereSchema = z.strictObject({
  counts: z.partialRecord(saidSchema, countSchema),
  heads: countSchema.nullable(),
  /** When somebody came late. */
  late: z.array(atSchema).max(HEAD_COUNT_MAX),
});
export type Here = z.infer<typeof hereSchema>;
export const nobodyYet: Here = { counts: {}, heads: null, late: [] };
