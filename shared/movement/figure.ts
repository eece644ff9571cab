/**
 * Owns the schema of a movement's figure: key poses in joint angles, what is
 * planted, the angle it is seen from. Leaves alone how they are solved
 * (solve.ts), joined (motion.ts) and drawn (draw.ts).
 *
 * A one-sided or alternating movement is written once, for the right side.
 * Lengths are fractions of stature; angles are degrees; x is forward, y is out
 * to the limb's own side (for the root: to the left), z is up from the floor.
 */
import { z } from 'zod';

const angle = z.number().min(-200).max(200);
const length = z.number().min(-2).max(2);

/** Flexion lifts the limb forward, abduction outward, rotation turns it inward. */
const legSchema = z.strictObject({
  flexion: angle, abduction: angle, rotation: angle, knee: angle,
  /** Dorsiflexion (toes up); negative points the toes. */
  ankle: angle, footTurn: angle, footTilt: angle,
}).partial();
const armSchema = z.strictObject({
  flexion: angle, abduction: angle, rotation: angle, elbow: angle,
  /** Extension (back of the hand towards the forearm); negative folds the palm in. */
  wrist: angle, handTurn: angle, handTilt: angle,
}).partial();

/** What a hand or a foot is held to. Body parts carry it with them. */
export const holds = ['floor', 'air', 'wall', 'pelvis', 'thorax', 'head', 'thigh', 'shank', 'foot', 'otherThigh', 'otherShank', 'otherArm'] as const;
export type Hold = (typeof holds)[number];
const plantSchema = z.strictObject({
  on: z.enum(holds).optional(),
  x: length.optional(), y: length.optional(), z: length.optional(),
  /** Foot: how far the heel is up with the ball planted. */
  heel: angle.optional(),
  /** Foot or hand: turned out. */
  turn: angle.optional(),
  /** Foot: rolled outward about its length; negative shows the sole inward. */
  tilt: angle.optional(),
  /** Knee or elbow turned outward about the limb. */
  out: angle.optional(),
  /** Elbow turned backward. */
  back: angle.optional(),
  /** How high it is carried on its way here from its last place. */
  lift: length.optional(),
});
export type Plant = z.infer<typeof plantSchema>;
const plant = plantSchema.nullable().optional();

const bend = z.strictObject({ flexion: angle, side: angle, rotation: angle }).partial();

export const bases = ['stand', 'chair', 'all-fours', 'plank', 'supine', 'prone', 'kneel', 'sit', 'side-lying'] as const;
export const pinParts = ['foot', 'knee', 'seat', 'shoulders'] as const;

export const keySchema = z.strictObject({
  /** Share of one repetition, 0 up to 1. */
  at: z.number().min(0).lt(1),
  /** A key that is held still: it must be balanced. */
  held: z.boolean().optional(),
  base: z.enum(bases).optional(),
  root: z.strictObject({ x: length, y: length, z: length, lean: angle, roll: angle, turn: angle, spin: angle }).partial().optional(),
  /** Place the body by a part of its right (or left) side instead of by its root. */
  pin: z.strictObject({ part: z.enum(pinParts), side: z.enum(['left', 'right']).optional(), x: length.optional(), z: length.optional() }).nullable().optional(),
  trunk: bend.optional(), neck: bend.optional(),
  arms: armSchema.optional(), rightArm: armSchema.optional(), leftArm: armSchema.optional(),
  legs: legSchema.optional(), rightLeg: legSchema.optional(), leftLeg: legSchema.optional(),
  hands: plant, rightHand: plant, leftHand: plant,
  feet: plant, rightFoot: plant, leftFoot: plant,
});
export type Key = z.infer<typeof keySchema>;

export const bears = ['feet', 'hands', 'forearms', 'knees', 'seat', 'back', 'front', 'side', 'chair', 'wall'] as const;

export const figureSchema = z.strictObject({
  /** Where it is seen from: 0 from the front, -90 in profile with the right side near. Within 90 of the front, so that left stays left. */
  view: z.number().min(-90).max(90),
  /** Degrees from above. */
  pitch: z.number().min(0).max(45).default(7),
  base: z.enum(bases),
  /** Seconds of one repetition, where it differs from the movement's tempo. */
  loopS: z.number().positive().max(30).optional(),
  keys: z.array(keySchema).min(1).max(12),
  /** What carries the body, besides what is planted. */
  bears: z.array(z.enum(bears)).min(1),
  prop: z.strictObject({
    kind: z.enum(['chair', 'wall']), x: length, turn: angle.optional(),
  }).optional(),
  sash: z.enum(['leg', 'arm']).optional(),
  /** Joints that a loaded body takes beyond the table, and why. */
  beyond: z.array(z.strictObject({ joint: z.string(), to: angle, why: z.string().min(8) })).default([]),
});
export type FigureData = z.infer<typeof figureSchema>;
