/**
 * Owns the figures over all houses as sums in SQL: what one studio's review adds up class by class (review/many.ts), over
 * rows of the same records. No formula stands here: loads, bins and limits are in the rows as they were made (gather.ts), and
 * what is made of sums is many.ts's own. Leaves alone names (names.ts) and HTTP.
 */
import type { AllReview } from '../../shared/wire/all.ts';
import type { Group, Move, ReviewWeek, Spread } from '../../shared/wire/review.ts';
import { type Asked, CUT_MOVES, type Sums, weekOf } from '../review/many.ts';
import { emptyBins, GREW_FROM_MIN, START_FROM_MIN } from '../review/spread.ts';
import type { Ask } from './over.ts';

export interface AskedOver extends Asked { readonly houses: readonly string[] }
export type Summed = Omit<AllReview, 'studio' | 'toRead' | 'from' | 'to' | 'choices' | 'first' | 'last' | 'movement'>;

/** Of these houses and days, and of the room, plan, series and movement where one is chosen. $1 to $7. */
const held = `held AS MATERIALIZED (
  SELECT r.*, m.workMs AS moveMs, CASE WHEN m.number IS NULL THEN r.formStops ELSE m.formStops END AS stops
  FROM records r LEFT JOIN record_moves m ON m.studio = r.studio AND m.number = r.number AND m.movement = $7::text
  WHERE r.studio = ANY($1::text[]) AND r.day BETWEEN $2 AND $3 AND r.stopped = 0
    AND ($4::text IS NULL OR r.roomOver = $4) AND ($5::text IS NULL OR r.plan = $5) AND ($6::text IS NULL OR r.seriesOver = $6) AND ($7::text IS NULL OR m.number IS NOT NULL))`;
const values = (a: AskedOver): unknown[] => [a.houses, a.from, a.to, a.room ?? null, a.plan ?? null, a.series ?? null, a.movement ?? null];

const sums = `count(*) AS held, sum(workMs) AS workMs, coalesce(sum(moveMs), 0) AS moveMs, sum(totalMs) AS totalMs, coalesce(sum(headCount), 0) AS heads, count(headCount) AS headClasses,
  count(load) AS rated, coalesce(sum(load), 0) AS load, count(startBin) AS lateOf, coalesce(sum(startedLate), 0) AS lateStart, coalesce(sum(grewLate), 0) AS grew, sum(stops) AS formStops`;

interface Grouped extends Sums {
  readonly by: number; readonly monday: number | null; readonly studio: string | null; readonly roomOver: string | null; readonly plan: string | null; readonly seriesOver: string | null;
  readonly moderateMs: number; readonly vigorousMs: number; readonly kcalPerKg: number; readonly late: number;
}
/** What `grouping` says of each set: a bit for each column that is not in it, the first the highest (PostgreSQL 15, 9.21). */
const [BY_WEEK, BY_HOUSE, BY_ROOM, BY_PLAN, BY_SERIES, OF_ALL] = [0b01111, 0b10111, 0b11011, 0b11101, 0b11110, 0b11111];
const groups = `WITH ${held} SELECT grouping(monday, studio, roomOver, plan, seriesOver) AS by, monday, studio, roomOver, plan, seriesOver, ${sums},
  sum(moderateMs) AS moderateMs, sum(vigorousMs) AS vigorousMs, sum(kcalPerKg) AS kcalPerKg, coalesce(sum(late), 0) AS late
  FROM held GROUP BY GROUPING SETS ((), (monday), (studio), (roomOver), (plan), (seriesOver))`;
const days = `WITH ${held} SELECT day, coalesce(sum(load), 0) AS load, max(muscle) AS muscle, max(balance) AS balance FROM held GROUP BY day`;
const planNames = `WITH ${held} SELECT DISTINCT ON (plan) plan, name FROM held ORDER BY plan, number DESC`;
const bins = `WITH ${held} SELECT grouping(startBin) AS grown, coalesce(startBin, grewBin) AS bin, count(*) AS n FROM held WHERE startBin IS NOT NULL GROUP BY GROUPING SETS ((startBin), (grewBin))`;
/** The nearest rank, as percentile_disc has it (PostgreSQL 15, 9.21): the first value at which so large a part is reached. */
const rank = (part: number, column: string, flag: string): string => `percentile_disc(${part}) WITHIN GROUP (ORDER BY ${column}) FILTER (WHERE ${flag} = 1)`;
const middles = `WITH ${held} SELECT ${rank(0.5, 'lateStartMs', 'startedLate')} AS start, ${rank(0.9, 'lateStartMs', 'startedLate')} AS start9, ${rank(0.5, 'grewMs', 'grewLate')} AS grew, ${rank(0.9, 'grewMs', 'grewLate')} AS grew9 FROM held`;
const moves = `WITH ${held} SELECT m.movement, min(m.name COLLATE "C") AS name, max(m.name COLLATE "C") AS other, sum(m.workMs) AS workMs, sum(m.formStops) AS formStops, sum(m.shows) AS shows,
  sum(m.showPlannedMs) AS showPlannedMs, sum(m.showRealMs) AS showRealMs, sum(m.cutMs) AS cutMs,
  coalesce(sum(m.cutMs) FILTER (WHERE h.late = 1), 0) AS lateCutMs, count(*) FILTER (WHERE h.late = 1 AND m.cutMs > 0) AS lateClasses
  FROM held h JOIN record_moves m ON m.studio = h.studio AND m.number = h.number WHERE $7::text IS NULL OR m.movement = $7 GROUP BY m.movement`;
const newestName = `WITH ${held} SELECT DISTINCT ON (m.movement) m.movement, m.name FROM held h JOIN record_moves m ON m.studio = h.studio AND m.number = h.number
  WHERE m.movement = ANY($8::text[]) ORDER BY m.movement, h.number DESC`;
const sections = `WITH ${held} SELECT c.kind, sum(c.ms) AS ms, sum(c.plannedMs) AS plannedMs FROM held h JOIN record_cuts c ON c.studio = h.studio AND c.number = h.number WHERE h.late = 1 GROUP BY c.kind`;
const stoppedOf = 'SELECT count(*) AS n FROM records WHERE studio = ANY($1) AND day BETWEEN $2 AND $3 AND stopped = 1';

const byKey = (a: Group, b: Group): number => (a.key < b.key ? -1 : 1);
const sumsOf = (g: Grouped): Sums => ({
  held: g.held, workMs: g.workMs, moveMs: g.moveMs, totalMs: g.totalMs, heads: g.heads, headClasses: g.headClasses, rated: g.rated, load: g.load,
  lateOf: g.lateOf, lateStart: g.lateStart, grew: g.grew, formStops: g.formStops,
});

/** One studio's answer, of all houses that are asked for. */
export async function sumsOver(ask: Ask, asked: AskedOver): Promise<Summed> {
  const given = values(asked);
  const grouped = await ask<Grouped>(groups, ...given);
  const byDay = new Map((await ask<{ day: number; load: number; muscle: number; balance: number }>(days, ...given)).map((d) => [d.day, d]));
  const names = new Map((await ask<{ plan: string; name: string }>(planNames, ...given)).map((p) => [p.plan, p.name]));
  const counted = await ask<{ grown: number; bin: number; n: number }>(bins, ...given);
  const [middle] = await ask<Record<'start' | 'start9' | 'grew' | 'grew9', number | null>>(middles, ...given);
  const [stopped] = await ask<{ n: number }>(stoppedOf, ...given.slice(0, 3));
  const of = grouped.find((g) => g.by === OF_ALL);
  const some = (by: number, key: 'studio' | 'roomOver' | 'plan' | 'seriesOver'): Group[] =>
    grouped.filter((g) => g.by === by).map((g) => ({ key: g[key] ?? '', name: (key === 'plan' ? names.get(g.plan ?? '') : undefined) ?? g[key] ?? '', ...sumsOf(g) })).sort(byKey);
  const weekFrom = (g: Grouped): ReviewWeek => {
    const monday = g.monday ?? 0;
    const own = Array.from({ length: 7 }, (_, k) => byDay.get(monday + k));
    const daily = own.map((d) => d?.load ?? 0);
    const daysOf = (what: 'muscle' | 'balance') => own.filter((d) => d?.[what] === 1).length;
    return weekOf(monday, { sums: sumsOf(g), daily, moderateMs: g.moderateMs, vigorousMs: g.vigorousMs, muscleDays: daysOf('muscle'), balanceDays: daysOf('balance'), kcalPerKg: g.kcalPerKg });
  };
  const spread = (grown: number, firstMin: number, more: number, medianMs: number | null = null, ninetiethMs: number | null = null): Spread => {
    const all = emptyBins(firstMin);
    for (const c of counted) if (c.grown === grown) all[c.bin] = c.n;
    return { of: of?.lateOf ?? 0, more, medianMs, ninetiethMs, firstMin, bins: all };
  };
  return {
    held: of?.held ?? 0, stopped: stopped?.n ?? 0,
    weeks: grouped.filter((g) => g.by === BY_WEEK).map(weekFrom).sort((a, b) => a.monday - b.monday),
    houses: some(BY_HOUSE, 'studio'), rooms: some(BY_ROOM, 'roomOver'), plans: some(BY_PLAN, 'plan'), series: some(BY_SERIES, 'seriesOver'),
    lateStart: spread(0, START_FROM_MIN, of?.lateStart ?? 0, middle?.start, middle?.start9), grew: spread(1, GREW_FROM_MIN, of?.grew ?? 0, middle?.grew, middle?.grew9),
    ...(await movesOver(ask, given, of?.late ?? 0)),
  };
}

interface Summoned extends Move { readonly other: string; readonly lateCutMs: number; readonly lateClasses: number }

async function movesOver(ask: Ask, given: readonly unknown[], classes: number): Promise<Pick<Summed, 'moves' | 'cuts'>> {
  const rows = await ask<Summoned>(moves, ...given);
  // Called otherwise in some classes: the newest counts.
  const several = rows.filter((m) => m.name !== m.other).map((m) => m.movement);
  const newest = new Map(several.length === 0 ? [] : (await ask<{ movement: string; name: string }>(newestName, ...given, several)).map((m) => [m.movement, m.name]));
  const all = rows.map(({ other: _other, lateCutMs, lateClasses, ...m }) => ({ lateCutMs, lateClasses, move: { ...m, name: newest.get(m.movement) ?? m.name } }));
  return {
    moves: all.map((m) => m.move).sort((a, b) => (a.name < b.name ? -1 : 1)),
    cuts: {
      classes,
      sections: await ask<Summed['cuts']['sections'][number]>(sections, ...given),
      moves: all.filter((m) => m.lateClasses > 0).map(({ move: { movement, name }, lateCutMs, lateClasses }) => ({ movement, name, ms: lateCutMs, classes: lateClasses }))
        .sort((a, b) => b.ms - a.ms || (a.name < b.name ? -1 : 1)).slice(0, CUT_MOVES),
    },
  };
}
