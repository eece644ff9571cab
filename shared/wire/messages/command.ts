/** Owns a command on the wire and its answer, which comes when it is on disk or refused. */
import { z } from 'zod';
import { INSTRUCTOR_MAX } from '../../limits.ts';
import { byIdSchema } from '../../session/commands/change.ts';
import { runningCommandSchema } from '../../session/command.ts';
import { atSchema } from '../../session/session.ts';
import { refusalSchema } from './refusal.ts';
import { snapshotSchema } from './snapshot.ts';

/** Starting names a plan of the studio; the server puts the plan itself into the log. */
export const startByIdSchema = z.strictObject({
  type: z.literal('start'),
  plan: z.string().max(60),
  freeAt: atSchema.nullable(),
  /** Who teaches, as a label and no more: what shows usually take is learned by it. */
  instructor: z.string().trim().min(1).max(INSTRUCTOR_MAX).optional(),
});

/** Changing names a movement of the library; the server puts what it knows of it into the log. */
export const changeByIdSchema = byIdSchema;
export type ChangeById = z.infer<typeof changeByIdSchema>;

export const commandMessageSchema = z.strictObject({
  /** Sent twice, it acts once and gets the first answer. */
  id: z.uuid(),
  /** The class that the sender saw; null where it saw none. */
  session: z.string().max(60).nullable(),
  /** Server time as the sender believed it when it was pressed; a network that held it back is noticed by it. */
  saidAt: z.number().nullable(),
  command: z.union([runningCommandSchema, startByIdSchema, changeByIdSchema]),
});
export type CommandMessage = z.infer<typeof commandMessageSchema>;

export const commandReplySchema = z.union([
  z.strictObject({ seq: z.int().min(0) }),
  z.strictObject({ refused: refusalSchema, snapshot: snapshotSchema.nullable() }),
]);
export type CommandReply = z.infer<typeof commandReplySchema>;

export type StartById = z.infer<typeof startByIdSchema>;
