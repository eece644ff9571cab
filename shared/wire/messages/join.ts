/** Owns the first message of every connection: who I am and which room I follow. The answer is everything. */
import { z } from 'zod';
import { snapshotSchema } from './snapshot.ts';
import { refusalSchema } from './refusal.ts';
import { clockNameSchema } from './sample.ts';

export const roleSchema = z.enum(['screen', 'phone', 'desk']);
export type Role = z.infer<typeof roleSchema>;

export const joinSchema = z.strictObject({ protocol: z.int(), role: roleSchema, room: z.string().max(60) });
export type Join = z.infer<typeof joinSchema>;

export const joinReplySchema = z.union([
  z.strictObject({ snapshot: snapshotSchema, clock: clockNameSchema }),
  z.strictObject({ refused: refusalSchema }),
]);
export type JoinReply = z.infer<typeof joinReplySchema>;
