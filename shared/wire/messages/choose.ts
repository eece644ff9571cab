/** Owns what a phone has laid out before the class: the screen shows it at the doors. Nothing of it is kept. */
import { z } from 'zod';

/** The plan's id, or null when it was put back. */
export const chooseSchema = z.strictObject({ plan: z.string().max(60).nullable() });
export type Choose = z.infer<typeof chooseSchema>;
