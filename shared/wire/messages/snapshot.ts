/** Owns the snapshot: all that a device needs of a room, sent on joining and after a gap. It replaces everything. */
import { z } from 'zod';
import { eventSchema } from '../../session/command.ts';
import { peopleSchema } from './people.ts';
import { soundSchema } from './sound.ts';

export const roomSchema = z.strictObject({
  id: z.string().max(60),
  name: z.string().max(80),
  /** Which of the edge patterns is this room's own, from 0. */
  pattern: z.int().min(0).max(7),
});
export type Room = z.infer<typeof roomSchema>;

export const snapshotSchema = z.strictObject({
  room: roomSchema,
  studio: z.strictObject({
    name: z.string().max(80), timeZone: z.string().max(60),
    /** What its screens speak where nobody chose otherwise at one of them; a BCP 47 tag. */
    language: z.string().max(35).optional(),
  }),
  /** The build of the server; a screen reloads itself once when it changes. */
  version: z.string().max(60),
  /** The class that runs, or the last one for a while after its end; its whole log. */
  session: z.strictObject({ id: z.string(), events: z.array(eventSchema) }).nullable(),
  /** How a phone joins. For screens only, and never during work; else null. */
  pairing: z.strictObject({
    code: z.string(), address: z.string(), url: z.string(),
    /** The address by the server's short name, while that leads here; most newer phones find it. */
    short: z.string().optional(),
  }).nullable(),
  /** The plan that a phone has laid out for the next class, until it starts. */
  chosen: z.string().max(60).nullable(),
  present: z.strictObject({ screens: z.int(), phones: z.int() }),
  /** Who is here, and what the bad minute needs; what of it depends on who asks. */
  people: peopleSchema,
  /** Whether the screens are heard, where signals come from, the music. */
  sound: soundSchema,
  /** Phones: what this one is called before others. */
  you: z.string().max(20).nullable(),
});
export type Snapshot = z.infer<typeof snapshotSchema>;
