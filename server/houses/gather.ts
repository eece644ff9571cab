/**
 * Owns the rows of what was made of each class of the houses (review/record.ts): brings them up to the logs, a few classes at
 * a time, newest first. What a figure needs beyond sums is made here once, by the review's own formulas, and stands in the row.
 * Two servers that gather at once make the same rows. Leaves alone what is asked of them (sums.ts).
 */
import { ANSWERS_OPEN_MS } from '../../shared/limits.ts';
import { loadOf } from '../review/many.ts';
import { type Kinds, mondayOf, OF_PLAN, type Recorded } from '../review/record.ts';
import { SHAPE, type Stamp } from '../review/records.ts';
import { binOf, GREW_FROM_MIN, MORE_MS, START_FROM_MIN } from '../review/spread.ts';
import type { ReviewThread } from '../review/worker.ts';
import { toldBy } from './about.ts';
import type { Ask, Over } from './over.ts';

/** Classes that are read, made and kept at a time. */
const EACH = 20;
/** A form of these rows of its own: raised whenever `rowOf` makes anything else of a record. */
const FORM = 1;
/** By which version and time zone a row is made: where another stands in it, it is made again. */
export const madeBy = (timeZone: string): string => `${SHAPE}.${FORM} ${timeZone}`;

interface Stale extends Stamp { readonly studio: string; readonly made: string }
/** Over houses a room is named with its house, and so is a time of the week; a series that plans are of is one over all. */
export const overKey = (house: string, key: string): string => (key.startsWith(OF_PLAN) ? key : `${house}/${key}`);

const flag = (b: boolean): 0 | 1 => (b ? 1 : 0);
function rowOf(studio: string, made: string, stamp: Stamp, recorded: Recorded | null): object {
  // As in the studio's own file: 2 is a class that cannot be read.
  if (!recorded) return { ...stamp, studio, made, stopped: 2 };
  const { record: r } = recorded;
  const said = r.lateStartMs !== null && r.grewMs !== null ? { start: r.lateStartMs, grew: r.grewMs } : null;
  return {
    ...r, ...stamp, studio, made, stopped: flag(recorded.stopped), late: flag(r.late), muscle: flag(r.muscle), balance: flag(r.balance),
    monday: mondayOf(r.day), roomOver: overKey(studio, r.room), seriesOver: overKey(studio, r.series), load: loadOf({ ...stamp, totalMs: r.totalMs }),
    startBin: said && binOf(said.start, START_FROM_MIN), startedLate: said && flag(said.start > MORE_MS), grewBin: said && binOf(said.grew, GREW_FROM_MIN), grewLate: said && flag(said.grew > MORE_MS),
  };
}

const stale = `SELECT s.studio, s.number, s.id, s.headCount, coalesce(a.answers, 0) AS answers, coalesce(a.ratingSum, 0) AS ratingSum, h.made
  FROM unnest($1::text[], $2::text[]) h (studio, made) JOIN sessions s ON s.studio = h.studio
  LEFT JOIN (SELECT studio, session, sum(n) AS answers, sum(n * rating) AS ratingSum FROM answers WHERE studio = ANY($1) GROUP BY studio, session) a
    ON a.studio = s.studio AND a.session = s.id AND s.endedAt <= $3
  LEFT JOIN records r ON r.studio = s.studio AND r.number = s.number
  WHERE s.endedAt IS NOT NULL AND (r.number IS NULL OR r.made <> h.made OR r.headCount IS DISTINCT FROM s.headCount
    OR r.answers <> coalesce(a.answers, 0) OR r.ratingSum <> coalesce(a.ratingSum, 0))
  ORDER BY s.number DESC`;

/** Writes what was made of classes of one house; of those that are gone meanwhile nothing. As that house. */
export async function keepRecords(ask: Ask, house: string, made: readonly { readonly stamp: Stamp; readonly by: string; readonly recorded: Recorded | null }[]): Promise<void> {
  await ask('SELECT pg_advisory_xact_lock(hashtext($1))', `records ${house}`);
  const there = new Set((await ask<{ id: string }>('SELECT id FROM sessions WHERE studio = $1 AND id = ANY($2) FOR KEY SHARE', house, made.map((m) => m.stamp.id))).map((s) => s.id));
  const kept = made.filter((m) => there.has(m.stamp.id));
  await ask('DELETE FROM records WHERE studio = $1 AND id = ANY($2)', house, kept.map((m) => m.stamp.id));
  const insert = async (table: string, rows: readonly object[]) => { await ask(`INSERT INTO ${table} SELECT * FROM json_populate_recordset(NULL::${table}, $1)`, JSON.stringify(rows)); };
  await insert('records', kept.map((m) => rowOf(house, m.by, m.stamp, m.recorded)));
  const beside = { record_moves: (r: Recorded) => r.moves, record_cuts: (r: Recorded) => r.cuts };
  for (const [table, of] of Object.entries(beside)) await insert(table, kept.flatMap((m) => (m.recorded ? of(m.recorded).map((row) => ({ ...row, studio: house, number: m.stamp.number })) : [])));
}

export interface GatherNeeds {
  readonly over: Over;
  readonly houses: readonly string[];
  /** Of houses that did not say theirs. */
  readonly timeZone: string;
  readonly make: (...args: Parameters<ReviewThread['make']>) => Promise<ReturnType<ReviewThread['make']>>;
  readonly kinds: () => Promise<Kinds>;
  readonly now: () => number;
  readonly warn: (sentence: string) => void;
}

export function openGather({ over, houses, timeZone, make, kinds, now, warn }: GatherNeeds) {
  let working: Promise<void> | null = null;
  // Until it is known how many: at least one.
  let toRead = 1;
  let stopped = false;

  async function some(batch: readonly Stale[], zones: ReadonlyMap<string, string>, known: Kinds): Promise<void> {
    for (const house of new Set(batch.map((s) => s.studio))) {
      const own = batch.filter((s) => s.studio === house);
      const rows = await over.read((ask) => ask<{ session: string; event: string }>('SELECT session, event FROM events WHERE studio = $1 AND session = ANY($2) ORDER BY session, seq', house, own.map((s) => s.id)));
      const texts = new Map(own.map((s): [string, string[]] => [s.id, []]));
      for (const { session, event } of rows) texts.get(session)?.push(event);
      const records = await make(own.map((s) => texts.get(s.id) ?? []), known, zones.get(house) ?? timeZone, now());
      await over.as(house, (ask) => keepRecords(ask, house, own.map(({ studio: _studio, made, ...stamp }, k) => ({ stamp, by: made, recorded: records[k] ?? null }))));
    }
  }

  async function bring(): Promise<void> {
    const zones = new Map([...await over.read((ask) => toldBy(ask, houses))].map(([house, { about }]) => [house, about?.timeZone ?? timeZone]));
    const all = await over.read((ask) => ask<Stale>(stale, houses, houses.map((house) => madeBy(zones.get(house) ?? timeZone)), now() - ANSWERS_OPEN_MS));
    toRead = all.length;
    if (toRead === 0) return;
    const known = await kinds();
    for (let from = 0; from < all.length && !stopped; from += EACH) {
      await some(all.slice(from, from + EACH), zones, known);
      toRead = Math.max(0, all.length - from - EACH);
    }
  }

  return {
    /** Brings the rows up to the logs; resolves when they are, or after `patienceMs` with how many classes are still to be read. */
    upToDate: (patienceMs: number): Promise<number> => {
      working ??= bring()
        .catch((error: unknown) => { if (!stopped) warn(`what the houses' classes came to could not be brought up to their logs: ${String(error)}`); })
        .finally(() => { working = null; });
      return Promise.race([working.then(() => toRead), new Promise<number>((resolve) => { setTimeout(() => resolve(toRead), patienceMs).unref(); })]);
    },
    stop: async (): Promise<void> => {
      stopped = true;
      await working;
    },
  };
}
