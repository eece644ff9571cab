/** Owns what a phone tells the server beside commands: nothing of it is logged, and all of it is gone with the class. */
import { z } from 'zod';
import { doorPictures } from '../../view/door-pictures.ts';
import { countSchema, saidSchema } from '../../session/here.ts';

export const tellSchema = z.discriminatedUnion('do', [
  /** So many said this at the door. */
  z.strictObject({ do: z.literal('here'), what: saidSchema, n: countSchema }),
  z.strictObject({ do: z.literal('heads'), n: countSchema }),
  /** One more, now. */
  z.strictObject({ do: z.literal('late') }),
  /** The screen shows a picture, so that somebody can see whether it is alight; and puts it away. */
  z.strictObject({ do: z.literal('picture') }),
  z.strictObject({ do: z.literal('picture-done') }),
  /** A code for another phone, which then leads. */
  z.strictObject({ do: z.literal('hand-over') }),
  /** This phone leads. */
  z.strictObject({ do: z.literal('lead') }),
]);
export type Tell = z.infer<typeof tellSchema>;

const picture = z.enum(doorPictures);
export const toldSchema = z.union([
  z.strictObject({ sentence: z.string() }),
  z.strictObject({
    done: z.literal(true),
    /** What the screen shows, and what it may be told from. */
    picture: picture.optional(),
    among: z.array(picture).optional(),
    code: z.string().optional(), url: z.string().optional(), until: z.number().optional(),
  }),
]);
export type Told = z.infer<typeof toldSchema>;
