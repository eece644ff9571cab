/**
 * Owns what a movement is: the one schema that every movement file, the
 * studio's own included, is read through. Leaves alone how a figure moves
 * (figure.ts) and how long a movement is done (the plan).
 */
import { z } from 'zod';
import { NAME_MAX } from '../limits.ts';
import { figureSchema } from './figure.ts';
import { pictureSchema } from './picture.ts';

/** Where a body is. A chair is not the floor: nobody has to get down to it. */
export const positions = [
  'standing', 'kneeling', 'all-fours', 'plank', 'seated', 'chair', 'face-up', 'face-down', 'side-lying',
] as const;
export const positionSchema = z.enum(positions);
export type Position = z.infer<typeof positionSchema>;

export const onFloor = (p: Position): boolean => p !== 'standing' && p !== 'chair';

export const patterns = [
  'squat', 'hinge', 'lunge', 'push', 'pull', 'carry', 'rotate', 'brace', 'locomotion', 'balance', 'stretch',
] as const;
export const areas = [
  'neck', 'shoulders', 'chest', 'upper back', 'arms', 'wrists', 'trunk', 'lower back',
  'hips', 'buttocks', 'front thighs', 'back thighs', 'inner thighs', 'calves', 'heart and lungs',
] as const;
/** What somebody may say at the door; each has an option in the movement. */
export const needs = ['knee', 'back', 'wrist', 'shoulder', 'pregnancy', 'no-floor', 'no-jumping'] as const;
export type Need = (typeof needs)[number];

const words = (max: number) => z.string().trim().min(1).max(max);
const idSchema = z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'an id is small letters, digits and single hyphens').max(60);

/** Another way to do it: words for the room, and the movement it is where there is one. */
const alternativeSchema = z.strictObject({ words: words(60), movement: idSchema.optional() });

export const movementSchema = z.strictObject({
  format: z.literal(1),
  id: idSchema,
  name: words(NAME_MAX),
  otherNames: z.array(words(NAME_MAX)).max(6).default([]),
  /** together: both sides at once; alternating: left and right in turn; each: one side at a time. */
  sides: z.enum(['together', 'alternating', 'each']),
  start: positionSchema,
  end: positionSchema,
  impact: z.enum(['none', 'low', 'high']),
  pattern: z.enum(patterns),
  areas: z.array(z.enum(areas)).min(1).max(4),
  suits: z.array(z.enum(['warm-up', 'main', 'cool-down'])).min(1),
  /** Seconds one repetition takes, or that it is held. */
  tempoS: z.number().positive().max(20).optional(),
  hold: z.boolean().default(false),
  /** Shorter than this it is not worth setting up for. Seconds of work, each side. */
  leastS: z.int().min(3).max(120),
  setUp: words(120),
  action: words(200),
  cues: z.array(words(40)).min(2).max(4),
  lookFor: z.array(words(60)).min(1).max(4),
  option: alternativeSchema,
  build: alternativeSchema,
  /** The movement's own words for its sides, as an instructor says them: "right leg back". */
  phrases: z.strictObject({ left: words(40), right: words(40) }).optional(),
  /** For somebody who said so at the door; a need that is missing here means: ask, or leave it out. */
  forNeeds: z.partialRecord(z.enum(needs), alternativeSchema).default({}),
  askFirst: z.array(words(80)).max(4).default([]),
  /** Code of the 2024 Compendium of Physical Activities it is counted under, and that code's MET. */
  intensity: z.strictObject({ code: z.string().regex(/^\d{5}$/), met: z.number().min(1).max(15) }),
  figure: figureSchema.optional(),
  /** A studio's own picture or clip; shown in place of a figure. */
  picture: pictureSchema.optional(),
}).superRefine((m, ctx) => {
  if (m.sides === 'each' && !m.phrases) {
    ctx.addIssue({ code: 'custom', path: ['phrases'], message: 'a movement done one side at a time needs its words for left and right' });
  }
});
export type Movement = z.infer<typeof movementSchema>;

/** Movements by id. */
export type Library = ReadonlyMap<string, Movement>;
