/** Owns a refusal on the wire: its reason for the program, its sentence for the person. */
import { z } from 'zod';
import { type RefusalReason, refusals } from '../../session/refusal.ts';

export const refusalSchema = z.strictObject({
  reason: z.enum(Object.keys(refusals) as [RefusalReason, ...RefusalReason[]]),
  sentence: z.string().max(400),
});
