/** Owns the chain's view, put together: live rooms and the review over all houses of the settings, where a database keeps them. */
import type { AllLive, AllReview } from '../../shared/wire/all.ts';
import { ANSWERS_LEAST } from '../../shared/effort/load.ts';
import type { ClassRecord } from '../../shared/wire/review.ts';
import type { Studio } from '../studio.ts';
import { tellAbout, toldBy } from './about.ts';
import { choicesOver, namedOver } from './choices.ts';
import { openGather } from './gather.ts';
import { openLive } from './live.ts';
import { openOver } from './over.ts';
import { type AskedOver, sumsOver } from './sums.ts';

export interface RecordOver { readonly house: string; readonly timeZone: string; readonly record: ClassRecord }

export interface View {
  readonly houses: readonly { readonly id: string; readonly name: string }[];
  readonly live: () => Promise<AllLive>;
  readonly upToDate: (patienceMs: number) => Promise<number>;
  readonly review: (asked: AskedOver) => Promise<Omit<AllReview, 'studio' | 'from' | 'to' | 'toRead'>>;
  /** Records as they are exported, in the order in which they came to the log. @param after the number of the last one */
  readonly list: (asked: Pick<AskedOver, 'houses' | 'from' | 'to'>, after: number, limit: number) => Promise<{ readonly records: readonly RecordOver[]; readonly next: number | null }>;
  readonly stop: () => Promise<void>;
}

const columns = `number, studio, id, room, plan, name, series, startedAt, endedAt, day, minute, how, headCount, plannedMs, totalMs, workMs, pausedMs, pauses, formStops, showPlannedMs, showRealMs,
  lateMs, lateStartMs, grewMs, late, cutMs, moderateMs, vigorousMs, muscle, balance, kcalPerKg, answers, ratingSum`;
type Row = Omit<ClassRecord, 'effort' | 'late' | 'muscle' | 'balance'> & Record<'number' | 'late' | 'muscle' | 'balance' | 'answers' | 'ratingSum', number> & { readonly studio: string };
const recordFrom = ({ number: _number, studio: _studio, answers, ratingSum, ...row }: Row): ClassRecord => ({
  ...row, late: row.late === 1, muscle: row.muscle === 1, balance: row.balance === 1, effort: answers < ANSWERS_LEAST ? null : { answers, mean: ratingSum / answers },
});

/** Tells what this studio is called, and opens the view where the settings name houses. */
export async function openView(studio: Studio): Promise<View | null> {
  const { settings: { houses, database, studio: { timeZone } }, settings, store, clock, log, reviews, library } = studio;
  if (store.chain) await tellAbout(store.chain, settings).catch((error: unknown) => log.warn(`others who look over this studio do not hear what its rooms are called: ${String(error)}`));
  if (database === null || houses.length === 0) return null;
  const ids = houses.map((h) => h.id);
  const over = openOver(database, ids, log.warn);
  const gather = openGather({
    over, houses: ids, timeZone, now: clock.now, warn: log.warn, make: (...args) => reviews.ask('make', ...args),
    kinds: async () => Object.fromEntries((await library.movements()).movements.map((m) => [m.id, { met: m.intensity.met, pattern: m.pattern }])),
  });
  const live = openLive(over, houses, timeZone);
  return {
    houses,
    live: () => live(clock.now()),
    upToDate: gather.upToDate,
    review: (asked) => over.read(async (ask) => {
      const told = await toldBy(ask, ids);
      const about = await choicesOver(ask, asked.houses);
      const { movement: key } = asked;
      const movement = key === undefined ? null : (about.choices.movements.find((m) => m.key === key) ?? { key, name: key });
      const { choices, ...review } = namedOver({ ...about, movement, ...(await sumsOver(ask, asked)) }, houses, told, asked.houses.length === 1);
      return { ...review, choices: { ...choices, houses: houses.map((h) => ({ key: h.id, name: h.name })) } };
    }),
    list: (asked, after, limit) => over.read(async (ask) => {
      const told = await toldBy(ask, ids);
      const rows = await ask<Row>(`SELECT ${columns} FROM records WHERE studio = ANY($1) AND stopped = 0 AND day BETWEEN $2 AND $3 AND number > $4 ORDER BY number LIMIT $5`, asked.houses, asked.from, asked.to, after, limit);
      const records = rows.map((row) => ({ house: houses.find((h) => h.id === row.studio)?.name ?? row.studio, timeZone: told.get(row.studio)?.about?.timeZone ?? timeZone, record: recordFrom(row) }));
      return { records, next: rows.length < limit ? null : (rows.at(-1)?.number ?? null) };
    }),
    stop: async () => {
      await gather.stop();
      await over.stop();
    },
  };
}
