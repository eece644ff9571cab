/** Owns news: the events that follow on what a device already has. A gap asks for a new snapshot. */
import { z } from 'zod';
import { eventSchema } from '../../session/command.ts';
import { snapshotSchema } from './snapshot.ts';

export const newsSchema = z.strictObject({
  session: z.string(),
  /** How many events this class has after these. */
  seq: z.int().min(1),
  events: z.array(eventSchema).min(1),
});
export type News = z.infer<typeof newsSchema>;

/** What changes beside the class: who is here, the pairing code, the plan that is laid out. Of `you` only the snapshot speaks. */
export const presenceSchema = snapshotSchema.pick({ present: true, pairing: true, chosen: true, people: true, sound: true });
export type Presence = z.infer<typeof presenceSchema>;
