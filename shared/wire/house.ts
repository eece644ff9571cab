/**
 * Owns what a studio's own server says to the chain's: which classes do you have up to which event, here are the next
 * commands of each, and what do you plan for me. A class is named by its id, its events by their sequence numbers, a plan by what
 * is in it, so that whatever is said twice is one thing. Leaves alone who may say it (a key) and how often.
 */
import { z } from 'zod';
import { EVENTS_MAX, HOUSE_CLASSES_MAX, HOUSE_COMMANDS_MAX, OWN_MOVEMENTS_MAX, OWN_PLANS_MAX } from '../limits.ts';
import { movementSchema } from '../movement/movement.ts';
import { planSchema } from '../plan/plan.ts';
import { entrySchema } from '../plan/timetable.ts';
import { eventSchema } from '../session/command.ts';
import { revisionSchema } from './plans.ts';

/** The form of all that follows. Whoever hears of another one says who is the older. */
export const HOUSE_SPEAKS = 1;
/** A key names its house and is 128 bits of chance: "north.Zm9yZXN0cyBhbmQgc2VhLg". */
export const houseKeySchema = z.string().regex(/^[a-z0-9]{1,20}\.[\w-]{22}$/, 'a key is as the chain\'s desk showed it: the studio\'s id, a point, 22 letters');

const classId = z.string().min(1).max(60);
const command = z.string().min(1).max(100);
const seq = z.int().min(0).max(EVENTS_MAX);
/** How many answered 0, 1, ... 10; each house's own count, which only grows. */
const answersSchema = z.array(z.strictObject({ rating: z.int().min(0).max(10), n: z.int().min(1).max(100_000) })).max(11);
const hello = {
  speaks: z.literal(HOUSE_SPEAKS),
  version: z.string().max(80),
};

/** POST /api/house/have */
export const askHaveSchema = z.strictObject({
  ...hello,
  /** The studio's time as it sends this. */
  now: z.int().min(0),
  /** How many classes have something that was not sent yet, as far as the studio knows. */
  waiting: z.int().min(0),
  /** What a log does not say: its rooms are named by ids alone. */
  about: z.strictObject({ timeZone: z.string().max(60), rooms: z.array(z.strictObject({ id: z.string().max(60), name: z.string().max(80), pattern: z.int().min(0).max(100) })).max(100) }),
  classes: z.array(z.strictObject({ id: classId, startedAt: z.int().min(0) })).max(HOUSE_CLASSES_MAX),
});
export type AskHave = z.infer<typeof askHaveSchema>;

/** How one class stands at the chain. */
const stands = {
  id: classId,
  /** Number of the newest event that is there; 0 where there is none. */
  seq,
  /** The command that led to it: the two logs are one line only where both have it there. */
  last: command.nullable(),
  /** Whether its end is written there. */
  closed: z.boolean(),
  /** How many answers are there. */
  answers: z.int().min(0),
};
export const haveSchema = z.strictObject({
  ...hello,
  now: z.int().min(0),
  /** In the order of the question. `unwanted`: older than the chain keeps. */
  classes: z.array(z.strictObject({ ...stands, unwanted: z.boolean() })),
});
export type Have = z.infer<typeof haveSchema>;

/** One command of a class with all of its events: never less. */
const commandSchema = z.strictObject({ id: command, events: z.array(eventSchema).min(1).max(100) });
const chunk = <T extends z.ZodType>(commands: T) => z.strictObject({
  id: classId,
  /** Sequence number of the first event of the first command. */
  from: z.int().min(1).max(EVENTS_MAX + 1),
  /** The command of the event before that; null where there is none. */
  after: command.nullable(),
  commands,
  /** Nobody goes on with it: it ended, ran out, or was forgotten. */
  closed: z.boolean(),
  answers: answersSchema,
});
/** POST /api/house/log: in the order in which classes were started. */
export const sendLogSchema = z.strictObject({ ...hello, classes: z.array(chunk(z.array(commandSchema).max(HOUSE_COMMANDS_MAX))).min(1).max(HOUSE_CLASSES_MAX) });
export type SendLog = z.infer<typeof sendLogSchema>;
export type Chunk = SendLog['classes'][number];
/** The same as it is read: events that a newer studio has are found in their class and hold up no other one. */
export const heardLogSchema = z.strictObject({
  ...hello,
  classes: z.array(chunk(z.array(z.strictObject({ ...commandSchema.shape, events: z.array(z.unknown()).min(1).max(100) })).max(HOUSE_COMMANDS_MAX))).min(1).max(HOUSE_CLASSES_MAX),
});
export type HeardChunk = z.infer<typeof heardLogSchema>['classes'][number];

/** What hinders one class, in a sentence; the others go on. */
export const logTakenSchema = z.strictObject({ ...hello, classes: z.array(z.strictObject({ ...stands, refused: z.string().nullable() })) });
export type LogTaken = z.infer<typeof logTakenSchema>;

const named = z.strictObject({ id: z.string().max(60), revision: revisionSchema });
/** POST /api/house/plans: what the chain plans for this house, and what of it is there already. */
export const askPlansSchema = z.strictObject({
  ...hello,
  /** What was answered when all of it was taken. */
  seen: revisionSchema.nullable(),
  /** Versions of the chain that the house has. */
  plans: z.array(named).max(OWN_PLANS_MAX),
  movements: z.array(named).max(OWN_MOVEMENTS_MAX),
  /** How many things are changed there and here otherwise, and wait for somebody to choose. */
  conflicts: z.int().min(0),
});
export type AskPlans = z.infer<typeof askPlansSchema>;
export const plansGivenSchema = z.strictObject({
  ...hello,
  /** Another one when anything of it changed. */
  revision: revisionSchema,
  /** Null where nothing did since `seen`. */
  news: z.strictObject({
    /** All that the chain has; without the plan where the house has that version. */
    plans: z.array(z.strictObject({ ...named.shape, plan: planSchema.nullable() })),
    /** The same, without pictures. */
    movements: z.array(z.strictObject({ ...named.shape, movement: movementSchema.nullable() })),
    /** Null while the chain has made none for this house. */
    timetable: z.array(entrySchema).nullable(),
    /** False where not all that is missing went into one message: take this and ask again. */
    whole: z.boolean(),
  }).nullable(),
});
export type PlansGiven = z.infer<typeof plansGivenSchema>;

/** GET /api/chain: how a studio's own server stands with the chain's, and how many houses report here. */
export const chainStandsSchema = z.strictObject({
  timeZone: z.string(),
  upward: z.strictObject({
    chain: z.string(),
    /** Everything that was done here up to then is there; null while that is not known. */
    upTo: z.int().nullable(),
    heardAt: z.int().nullable(),
    /** Classes that have something that is not there yet. */
    waiting: z.int(),
    /** What hinders, in sentences. */
    troubles: z.array(z.string()),
    /** When what the chain plans was last taken whole; null before it was. */
    plansAt: z.int().nullable(),
    /** How many things are changed there and here otherwise, and wait for somebody to choose. */
    conflicts: z.int(),
  }).nullable(),
  houses: z.int(),
});
export type ChainStands = z.infer<typeof chainStandsSchema>;

/** GET /api/chain/conflicts: what the chain and this studio changed otherwise; it is as it is here until somebody chose. */
export const conflictsHereSchema = z.strictObject({
  plans: z.array(z.strictObject({ ours: planSchema, theirs: planSchema, /** What both began with; null where each made a plan of this name by itself. */ base: planSchema.nullable() })),
  lines: z.array(z.strictObject({ id: z.string(), /** Null where it is not there. */ ours: entrySchema.nullable(), theirs: entrySchema.nullable() })),
});
export type ConflictsHere = z.infer<typeof conflictsHereSchema>;
/** POST /api/chain/settle: answers with what is left. What it was chosen of is sent back, so that nothing is chosen unseen. */
export const settleSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('plan'), ours: planSchema, theirs: planSchema,
    /** By the places of the merge (shared/plan/merge.ts), "mine" being this studio's; "whole" where both made it by themselves. */
    chosen: z.record(z.string().max(300), z.enum(['mine', 'theirs'])),
  }),
  z.strictObject({ kind: z.literal('line'), id: z.string().max(60), ours: entrySchema.nullable(), theirs: entrySchema.nullable(), whose: z.enum(['ours', 'theirs']) }),
]);
export type Settle = z.infer<typeof settleSchema>;

/** GET /api/desk/houses */
export const housesSchema = z.strictObject({
  timeZone: z.string(),
  now: z.int(),
  houses: z.array(z.strictObject({
    id: z.string(), name: z.string(),
    /** Since when its key holds; null where it has none. */
    keyAt: z.int().nullable(),
    heardAt: z.int().nullable(),
    /** The newest event of it that is here. */
    upTo: z.int().nullable(),
    waiting: z.int(),
    /** When it last had all that is planned here; null before it had. */
    plansAt: z.int().nullable(),
    /** Things that were changed there and here otherwise, and wait for somebody at its desk. */
    conflicts: z.int(),
    troubles: z.array(z.string()),
  })),
});
export type HousesBody = z.infer<typeof housesSchema>;
/** POST /api/desk/houses/:id/key: shown once. */
export const houseKeyBodySchema = z.strictObject({ key: houseKeySchema });
