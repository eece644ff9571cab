/**
 * Owns the shape of a class as it is held: where it stood at its last event, and
 * the sums up to there. It is only ever made by folding the log (evolve.ts);
 * everything that can be computed from it (place.ts, ledger.ts) is not kept in it.
 */
import { z } from 'zod';
import { COUNT_IN_MS, NOTE_MAX } from '../limits.ts';
import type { FactsOf } from '../plan/facts.ts';
import type { Interval } from '../plan/interval.ts';
import type { Plan } from '../plan/plan.ts';
import type { ServerAt } from '../time/units.ts';
import type { Change } from './edit.ts';

export const pauseReasons = ['form', 'water', 'question', 'other'] as const;
export type PauseReason = (typeof pauseReasons)[number];

export const settingsSchema = z.strictObject({
  /** The least time between a command that sets the clock going and work, standing. */
  countInMs: z.int().min(3_000).max(10_000).default(COUNT_IN_MS),
});
export type Settings = z.infer<typeof settingsSchema>;
/** What the schema makes of nothing said. */
export const usualSettings: Settings = { countInMs: COUNT_IN_MS };

export const atSchema = z.int().min(0) as unknown as z.ZodType<ServerAt, number>;
export const noteText = z.string().trim().min(1).max(NOTE_MAX);

/** "At this server instant the class stood here." The count-in comes before the interval goes on. */
export interface Anchor {
  readonly at: ServerAt;
  readonly index: number;
  readonly elapsedMs: number;
  readonly countInMs: number;
}

/** Where each millisecond since the start went. Invariant 1: the accounts add up to the time. */
export interface Accounts {
  readonly together: number;
  readonly left: number;
  readonly right: number;
  readonly otherSide: number;
  readonly setUp: number;
  readonly rest: number;
  readonly show: number;
  readonly talk: number;
  readonly countIn: number;
  readonly paused: number;
  readonly keepMoving: number;
  readonly stopped: number;
}

/** Over the intervals that end by the clock; invariant 2 says how they hang together. */
export interface Sums {
  readonly elapsed: number;
  readonly planned: number;
  readonly extended: number;
  readonly added: number;
  readonly repeated: number;
  readonly skipped: number;
  readonly dropped: number;
}

/** What the clock stands for. Carrying on leads out of the first two only; out of a stop there is only the way to a pause. */
export type Standstill = 'pause' | 'keep-moving' | 'stop';
export const stopAnswers = ['help', 'out'] as const;
/** Somebody needs help, or everyone out. */
export type StopAnswer = (typeof stopAnswers)[number];
export const stopStamps = ['help-called', 'help-here'] as const;
export type StopStamp = (typeof stopStamps)[number];

/** What is known of a stop: what it is for, once somebody said so, and when help was called and came. */
export interface Stop {
  readonly answer: StopAnswer | null;
  readonly helpCalledAt: ServerAt | null;
  readonly helpHereAt: ServerAt | null;
}

export interface Pause {
  /** Its name: the how-manieth of this class, from 1. */
  readonly number: number;
  readonly since: ServerAt;
  readonly reason: PauseReason | null;
  readonly what: Standstill;
  /** Since when the room has stood: a stop in a pause goes on standing, moving does not stand. */
  readonly stoodSince: ServerAt;
  /** It came after a stop, and nothing sounds for it. */
  readonly quiet: boolean;
  /** When easy movement before carrying on has been long enough; null where it has no aim. */
  readonly aimAt: ServerAt | null;
  /** Of a stop only. */
  readonly stop: Stop | null;
}

/** How a class stands to the time it should end at. */
export type Standing = 'early' | 'on-time' | 'late';

export interface Note { readonly at: ServerAt; readonly text: string }

export interface Session {
  readonly id: string;
  readonly room: string;
  readonly plan: Plan;
  readonly facts: FactsOf;
  readonly settings: Settings;
  /** When the floor must be free, if anybody said so. */
  readonly freeAt: ServerAt | null;
  /** What the room was promised: freeAt, or the end as it was projected at the start. */
  readonly promisedAt: ServerAt;
  readonly startedAt: ServerAt;
  readonly lastAt: ServerAt;
  readonly intervals: readonly Interval[];
  readonly anchor: Anchor;
  /** How often the class has gone back so far; half of the name of an occurrence. */
  readonly goneBack: number;
  readonly pause: Pause | null;
  readonly pauses: number;
  /** Whether there was a stop that was no slip: then nobody is told "well done". */
  readonly wasStopped: boolean;
  readonly over: { readonly at: ServerAt; readonly how: 'ended' | 'ran-out' | 'forgotten' } | null;
  readonly accounts: Accounts;
  readonly sums: Sums;
  /** Milliseconds of clocked work on each side, by the pair they belong to. */
  readonly sides: Readonly<Record<string, { readonly left: number; readonly right: number }>>;
  /** The pair of the last work that was begun, null if that had no sides. */
  readonly lastPair: string | null;
  /** Pairs that were evened up; each only once. */
  readonly evened: readonly string[];
  /** How many changes of the list there were; the next one's number and part of the names it gives. */
  readonly changes: number;
  /** The last of them, while it can be taken back. */
  readonly change: Change | null;
  /** What is done in the place of a planned movement ("section.item") from now on; null where it is left out. */
  readonly replaced: Readonly<Record<string, string | null>>;
  /** Early, on time or late as of the newest event; finish.ts goes on from it. */
  readonly standing: Standing;
  /** Who teaches, and milliseconds that shows are expected to take, as the start said. */
  readonly instructor: string | null;
  readonly estimates: Readonly<Record<string, number>>;
  readonly notes: readonly Note[];
  readonly headCount: number | null;
}
