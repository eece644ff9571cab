/**
 * Owns what is known of a room's people beside the class, as a device of it sees it. It is
 * in the server's memory. Who gets what: counts and other rooms' calls go to phones (calls
 * to the desk too), never to screens.
 */
import { z } from 'zod';
import { hereSchema } from '../../session/here.ts';
import { atSchema, stopAnswers } from '../../session/session.ts';
import { doorPictures } from '../../view/door-pictures.ts';
import { emergencySchema, noEmergency } from '../emergency.ts';
import { noSound, type SoundOfRoom } from './sound.ts';

export const peopleSchema = z.strictObject({
  emergency: emergencySchema,
  /** A stop that the log does not hold: no class runs, or the disk does not answer. */
  stop: z.strictObject({ since: atSchema, answer: z.enum(stopAnswers).nullable(), helpCalledAt: atSchema.nullable(), helpHereAt: atSchema.nullable() }).nullable(),
  here: hereSchema.nullable(),
  /** Other rooms of the studio that need a hand, or that everybody leaves. */
  elsewhere: z.array(z.strictObject({ room: z.string(), name: z.string(), pattern: z.int(), what: z.enum(stopAnswers), since: atSchema })),
  /** The phone that leads the class, once one has taken over; its public name, which leads to no token. */
  lead: z.string().nullable(),
  /** Screens: the picture of a door check, while it runs. */
  picture: z.enum(doorPictures).nullable(),
  /** Screens: the code stands on the class, because a phone is handed over or none is there when a go is due. */
  asksForPhone: z.boolean(),
});
export type People = z.infer<typeof peopleSchema>;
export const noPeople: People = {
  emergency: noEmergency, stop: null, here: null, elsewhere: [], lead: null, picture: null, asksForPhone: false,
};
/** As a page that belongs to no room sees it: a rehearsal, a sample. */
export const amongNobody: { readonly people: People; readonly sound: SoundOfRoom; readonly you: null } = { people: noPeople, sound: noSound, you: null };
