/**
 * Owns the copy of the log to the chain. The log here is all that is kept of it: the chain is asked up to which
 * event it has each class, and is sent what follows. Nothing is lost with an answer, and what is sent twice is
 * there once. A class whose room is stopped waits until it is led back. Time and the way are handed in.
 */
import { ANSWERS_OPEN_MS, HOUSE_CLASSES_MAX, HOUSE_CLOCK_OFF_MS } from '../../shared/limits.ts';
import { replay } from '../../shared/session/evolve.ts';
import type { ServerAt } from '../../shared/time/units.ts';
import { type AskHave, type Have, HOUSE_SPEAKS } from '../../shared/wire/house.ts';
import { NotUnderstood } from '../core/store.ts';
import { OTHERWISE } from '../houses/receive.ts';
import type { Far } from '../store/keeping.ts';
import type { LogStore } from '../store/log-store.ts';
import type { Ask } from './ask.ts';
import { type Due, messagesOf } from './pack.ts';

export interface SendNeeds {
  readonly store: Pick<LogStore, 'since' | 'log' | 'answers'>;
  readonly ask: Pick<Ask, 'have' | 'log'>;
  readonly version: string;
  readonly about: AskHave['about'];
  readonly now: () => ServerAt;
}

export interface Sender {
  /** Brings the chain up to what is here, once. Rejects with Hindered, or as the log does. */
  readonly pass: () => Promise<void>;
  /** Everything up to then is there; null before it was known. */
  readonly upTo: () => number | null;
  readonly heardAt: () => number | null;
  /** Classes that have something that is not there. @param from number of the class up to which it is known without asking */
  readonly waiting: (from: number) => Promise<number>;
  /** What does not hinder the rest: classes that are not taken, a clock that is off. */
  readonly troubles: () => readonly string[];
  /** Number of the class up to which all is there for good. */
  readonly settled: () => number;
}

/** All is compared once a day: the chain's database may have been put back from an older copy. */
const AGAIN_MS = 86_400_000;
/** A chain to which nothing is to be said is greeted this often. */
const GREET_MS = 10_000;
/** A class that ended so long ago gets no more notes and answers. */
const STILL_MS = ANSWERS_OPEN_MS;

type Known = Pick<Have['classes'][number], 'seq' | 'last' | 'closed' | 'answers' | 'unwanted'> & { readonly refused: string | null };

export function openSender({ store, ask, version, about, now }: SendNeeds): Sender {
  const hello = { speaks: HOUSE_SPEAKS, version } as const;
  /** What the chain has of the classes that may still grow. */
  const known = new Map<string, Known>();
  let settled = 0;
  let walkedAt: number | null = null;
  let upTo: number | null = null;
  let heardAt: number | null = null;
  let offMs = 0;
  let theirs: string | null = null;
  let refusals = new Map<string, string>();
  let held = 0;

  const there = (c: Far): boolean => {
    const k = known.get(c.id);
    return k !== undefined && (k.unwanted || k.refused !== null || (k.seq >= c.seq && k.closed === (c.endedAt !== null) && k.answers >= c.answers));
  };
  const still = (c: Far): boolean => there(c) && c.endedAt !== null && c.endedAt + STILL_MS < now();
  const startAgain = (): void => {
    known.clear();
    refusals = new Map();
    settled = 0;
    walkedAt = null;
  };

  async function greet(classes: readonly Far[], waiting: number): Promise<void> {
    const sentAt = now();
    const have = await ask.have({ ...hello, now: sentAt, waiting, about, classes: classes.map(({ id, startedAt }) => ({ id, startedAt })) });
    heardAt = now();
    const halfMs = (heardAt - sentAt) / 2;
    const awayMs = sentAt + halfMs - have.now;
    offMs = Math.abs(awayMs) - halfMs > HOUSE_CLOCK_OFF_MS ? awayMs : 0;
    // What an older or a newer one did not take, this one may.
    if (theirs !== null && theirs !== have.version && refusals.size > 0) startAgain();
    theirs = have.version;
    for (const c of have.classes) known.set(c.id, { ...c, refused: null });
  }

  /** One class after the other, read when its turn comes. */
  async function* dueOf(page: readonly Far[]): AsyncGenerator<Due> {
    for (const c of page) {
      if (there(c)) continue;
      const k = known.get(c.id);
      const rows = await store.log(c.id).catch((error: unknown) => {
        if (!(error instanceof NotUnderstood)) throw error;
        refuse(c.id, `it cannot be read here: ${error.message}.`);
        return null;
      });
      if (rows === null || !k) continue;
      if (c.endedAt === null && replay(rows.map((row) => row.event))?.pause?.stop) {
        held += 1;
        continue;
      }
      yield { id: c.id, rows, have: k.seq, closed: c.endedAt !== null, answers: c.answers > k.answers ? (await store.answers(c.id)).filter((a) => a.n > 0) : [] };
    }
  }
  function refuse(id: string, why: string): void {
    refusals.set(id, why);
    known.set(id, { seq: 0, last: null, closed: false, answers: 0, unwanted: false, ...known.get(id), refused: why });
  }

  async function bring(page: readonly Far[]): Promise<void> {
    const asked = page.filter((c) => !known.has(c.id));
    if (asked.length > 0) await greet(asked, page.filter((c) => !there(c)).length);
    for (const c of page) {
      const k = known.get(c.id);
      if (k && !k.unwanted && k.refused === null && (k.seq > c.seq || (k.seq === c.seq && k.last !== c.last))) refuse(c.id, OTHERWISE);
    }
    for await (const classes of messagesOf(dueOf(page))) {
      const taken = await ask.log({ ...hello, classes });
      heardAt = now();
      for (const { refused, ...c } of taken.classes) {
        known.set(c.id, { ...c, unwanted: false, refused: null });
        if (refused === null) refusals.delete(c.id);
        else refuse(c.id, refused);
      }
    }
  }

  async function pass(): Promise<void> {
    const startedAt = now();
    if (walkedAt === null || startedAt - walkedAt > AGAIN_MS) {
      startAgain();
      walkedAt = startedAt;
    }
    held = 0;
    let missing = 0;
    let settling = true;
    for (let at = settled; ;) {
      const page = await store.since(at, HOUSE_CLASSES_MAX);
      await bring(page);
      for (const c of page) {
        if (!there(c)) missing += 1;
        settling &&= still(c);
        if (!settling) continue;
        settled = c.number;
        known.delete(c.id);
      }
      if (page.length < HOUSE_CLASSES_MAX) break;
      at = page.at(-1)?.number ?? at;
    }
    if (heardAt === null || now() - heardAt >= GREET_MS) await greet([], missing);
    if (missing === 0) upTo = startedAt;
  }

  return {
    pass: async () => {
      try {
        await pass();
      } catch (error) {
        // What was sent and not answered may be there: it is asked again.
        known.clear();
        throw error;
      }
    },
    upTo: () => upTo,
    heardAt: () => heardAt,
    settled: () => settled,
    waiting: async (from) => {
      let n = 0;
      for (let at = Math.max(settled, from); ;) {
        const page = await store.since(at, HOUSE_CLASSES_MAX);
        n += page.filter((c) => !there(c)).length;
        if (page.length < HOUSE_CLASSES_MAX) return n;
        at = page.at(-1)?.number ?? at;
      }
    },
    troubles: () => [
      ...[...refusals].slice(0, 3).map(([id, why]) => `Class ${id} is not taken: ${why}`),
      ...(refusals.size > 3 ? [`${refusals.size - 3} more classes are not taken.`] : []),
      ...(held > 0 ? ['A class whose room is stopped waits here until it is led back.'] : []),
      ...(offMs === 0 ? [] : [`The clock of this studio is ${spanWords(Math.abs(offMs))} ${offMs > 0 ? 'ahead of' : 'behind'} the chain's. Its classes keep the times they had here. Set the clock that is wrong.`]),
    ],
  };
}

/** "2 h 5 min": long enough that seconds do not matter. */
export function spanWords(ms: number): string {
  const minutes = Math.round(ms / 60_000);
  const hours = Math.floor(minutes / 60);
  return hours >= 48 ? `${Math.round(hours / 24)} days` : hours === 0 ? `${minutes} min` : `${hours} h ${minutes % 60} min`;
}
