/**
 * Owns the interval: one stretch of the class clock, as a plan compiles to it.
 * Leaves alone where a class stands among its intervals (session).
 */
import { z } from 'zod';
import { PLAN_MOST_S } from '../limits.ts';

export const intervalKinds = ['talk', 'show', 'set-up', 'work', 'other-side', 'rest'] as const;
export type IntervalKind = (typeof intervalKinds)[number];
export const breaks = ['water', 'rest'] as const;
export const sideSchema = z.enum(['left', 'right']);
export type Side = z.infer<typeof sideSchema>;

const id = z.string().min(1).max(80);
const ms = z.int().min(1).max(PLAN_MOST_S * 1_000 * 8);

export const intervalSchema = z.strictObject({
  /** Its name in this class; never used again once it has been left. */
  id,
  kind: z.enum(intervalKinds),
  ends: z.enum(['clock', 'go']),
  /** Milliseconds; an estimate where it ends on go. Never 0. */
  lengthMs: ms,
  /** Index of the section in the plan. */
  section: z.int().min(0),
  /** From 1. The rest before a round carries its number; 0 is outside all rounds (talk, shows of all first, last rest). */
  round: z.int().min(0),
  /** Index of the movement in its section; -1 where the interval belongs to none. */
  item: z.int().min(-1),
  /** The movement that is done, shown, set up for or rested toward. */
  movement: z.string().optional(),
  /** Work only: one side, or both at once where it is left out. Set-up and other side: the side that comes. */
  side: sideSchema.optional(),
  /** Work on one side: what its left and right are summed under. */
  pair: z.string().optional(),
  target: z.strictObject({ of: z.enum(['reps', 'breaths']), n: z.int().min(1) }).optional(),
  /** Follow me: the movements of the block in order. */
  prompts: z.array(z.string()).optional(),
  /** Stations: the movements in their places, and how many places everybody has moved on. */
  stations: z.strictObject({ movements: z.array(z.string()), turn: z.int().min(0) }).optional(),
  /** Alternating work: left and right in turn within it. */
  alternating: z.boolean().optional(),
  /** Talk and rest that were put in by hand: a water break, or a rest. */
  break: z.enum(breaks).optional(),
});
export type Interval = z.infer<typeof intervalSchema>;

/** Intervals that stand together as one movement of one round share this key; a rest stands alone. */
export const unitOf = (i: Interval): string =>
  i.kind === 'rest' ? `rest:${i.id}` : i.kind === 'talk' ? `talk:${i.section}:${i.id}` : `${i.section}:${i.round}:${i.item}`;
