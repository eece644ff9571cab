/**
 * Owns what a movement's own picture is: a still picture or a short looping clip,
 * and the address it is fetched from. Leaves alone what is in the file (the server
 * looks before it keeps one) and how it is shown.
 */
import { z } from 'zod';

export const pictureTypes = {
  jpg: { kind: 'picture', mime: 'image/jpeg' },
  png: { kind: 'picture', mime: 'image/png' },
  webp: { kind: 'picture', mime: 'image/webp' },
  mp4: { kind: 'clip', mime: 'video/mp4' },
  webm: { kind: 'clip', mime: 'video/webm' },
} as const;
export type PictureType = keyof typeof pictureTypes;
export type PictureKind = (typeof pictureTypes)[PictureType]['kind'];

/** "our-squat.webm": the movement's id, and what it is. */
const FILE = /^([a-z0-9]+(?:-[a-z0-9]+)*)\.(jpg|png|webp|mp4|webm)$/;

export const pictureTypeOf = (file: string): PictureType | null => (FILE.exec(file)?.[2] as PictureType | undefined) ?? null;

export const pictureSchema = z.strictObject({
  kind: z.enum(['picture', 'clip']),
  file: z.string().regex(FILE, 'a picture is called like its movement, and ends in .jpg, .png, .webp, .mp4 or .webm'),
}).superRefine(({ kind, file }, ctx) => {
  const type = pictureTypeOf(file);
  if (type && pictureTypes[type].kind !== kind) ctx.addIssue({ code: 'custom', path: ['kind'], message: `${file} is a ${pictureTypes[type].kind}` });
});
export type Picture = z.infer<typeof pictureSchema>;

export const pictureAddress = ({ file }: Picture): string => `/pictures/${file}`;
