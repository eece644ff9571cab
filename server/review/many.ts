/**
 * Owns the answer about many classes: one pass over their records, sums by week, room,
 * plan, series and movement. Runs in the review's own thread. Leaves alone what a record
 * is made of (record.ts) and the sentences and pictures (desk).
 */
import { ANSWERS_LEAST, sessionLoad, weekLoad } from '../../shared/effort/load.ts';
import type { Group, Move, Review, ReviewWeek } from '../../shared/wire/review.ts';
import { type Cut, mondayOf } from './record.ts';
import type { Records } from './records.ts';
import { spreadOf } from './spread.ts';

export interface Asked { readonly from: number; readonly to: number; readonly room?: string | undefined; readonly plan?: string | undefined; readonly series?: string | undefined }
type Answer = Omit<Review, 'studio' | 'toRead' | 'from' | 'to'>;

interface Row {
  number: number; room: string; plan: string; name: string; series: string; day: number; headCount: number | null;
  totalMs: number; workMs: number; formStops: number; lateStartMs: number | null; grewMs: number | null; late: number;
  moderateMs: number; vigorousMs: number; muscle: number; balance: number; kcalPerKg: number; answers: number; ratingSum: number;
}
const MINUTE_MS = 60_000;
const WEEK = 7;

type Sums = { -readonly [K in keyof Omit<Group, 'key' | 'name'>]: Group[K] };
const none = (): Sums => ({ held: 0, workMs: 0, totalMs: 0, heads: 0, headClasses: 0, rated: 0, load: 0, lateOf: 0, lateStart: 0, grew: 0, formStops: 0 });

/** Null while there are fewer than three answers. */
export const loadOf = (r: Pick<Row, 'answers' | 'ratingSum' | 'totalMs'>): number | null =>
  r.answers < ANSWERS_LEAST ? null : sessionLoad(r.ratingSum / r.answers, r.totalMs / MINUTE_MS);

function add(s: Sums, r: Row, load: number | null): void {
  s.held += 1;
  s.workMs += r.workMs;
  s.totalMs += r.totalMs;
  s.formStops += r.formStops;
  if (r.headCount !== null) { s.heads += r.headCount; s.headClasses += 1; }
  if (load !== null) { s.rated += 1; s.load += load; }
  if (r.lateStartMs !== null && r.grewMs !== null) {
    s.lateOf += 1;
    if (r.lateStartMs > MINUTE_MS) s.lateStart += 1;
    if (r.grewMs > MINUTE_MS) s.grew += 1;
  }
}

interface WeekDraft { sums: Sums; daily: number[]; moderateMs: number; vigorousMs: number; muscle: Set<number>; balance: Set<number>; kcalPerKg: number }
const newWeek = (): WeekDraft => ({ sums: none(), daily: Array<number>(WEEK).fill(0), moderateMs: 0, vigorousMs: 0, muscle: new Set(), balance: new Set(), kcalPerKg: 0 });

/** The classes that were asked for, as SQL and what it is asked with. */
function where(asked: Asked): { readonly sql: string; readonly with: Record<string, string | number> } {
  const parts = ['stopped = 0', 'day BETWEEN @from AND @to'];
  const given: Record<string, string | number> = { from: asked.from, to: asked.to };
  for (const key of ['room', 'plan', 'series'] as const) {
    const value = asked[key];
    if (value === undefined) continue;
    parts.push(`${key} = @${key}`);
    given[key] = value;
  }
  return { sql: parts.join(' AND '), with: given };
}

export function many(records: Records, asked: Asked): Answer {
  const { db } = records;
  const chosen = where(asked);
  const weeks = new Map<number, WeekDraft>();
  const [rooms, plans, series] = [new Map<string, Sums>(), new Map<string, Sums>(), new Map<string, Sums>()];
  const names = new Map<string, string>();
  const [starts, grown]: [number[], number[]] = [[], []];
  let held = 0;
  let late = 0;
  const found = db.prepare(
    `SELECT number, room, plan, name, series, day, headCount, totalMs, workMs, formStops, lateStartMs, grewMs, late, moderateMs, vigorousMs, muscle, balance,
     kcalPerKg, answers, ratingSum FROM classes WHERE ${chosen.sql} ORDER BY number`,
  );
  for (const r of found.iterate(chosen.with) as IterableIterator<Row>) {
    held += 1;
    late += r.late;
    const load = loadOf(r);
    const monday = mondayOf(r.day);
    const week = entry(weeks, monday, newWeek);
    add(week.sums, r, load);
    week.daily[r.day - monday] = (week.daily[r.day - monday] ?? 0) + (load ?? 0);
    week.moderateMs += r.moderateMs;
    week.vigorousMs += r.vigorousMs;
    week.kcalPerKg += r.kcalPerKg;
    if (r.muscle) week.muscle.add(r.day);
    if (r.balance) week.balance.add(r.day);
    add(entry(rooms, r.room, none), r, load);
    add(entry(plans, r.plan, none), r, load);
    add(entry(series, r.series, none), r, load);
    names.set(r.plan, r.name);
    if (r.lateStartMs !== null && r.grewMs !== null) { starts.push(r.lateStartMs); grown.push(r.grewMs); }
  }
  const listed = (groups: ReadonlyMap<string, Sums>, name: (key: string) => string): Group[] =>
    [...groups].map(([key, sums]) => ({ key, name: name(key), ...sums })).sort((a, b) => (a.key < b.key ? -1 : 1));
  return {
    ...span(records),
    held,
    stopped: db.prepare('SELECT count(*) FROM classes WHERE stopped = 1 AND day BETWEEN ? AND ?').pluck().get(asked.from, asked.to) as number,
    choices: choicesOf(records),
    weeks: [...weeks].sort(([a], [b]) => a - b).map(([monday, week]) => weekOf(monday, week)),
    rooms: listed(rooms, (key) => key), plans: listed(plans, (key) => names.get(key) ?? key), series: listed(series, (key) => key),
    moves: db.prepare(
      `SELECT m.movement, max(m.name) AS name, sum(m.workMs) AS workMs, sum(m.formStops) AS formStops, sum(m.shows) AS shows, sum(m.showPlannedMs) AS showPlannedMs,
       sum(m.showRealMs) AS showRealMs, sum(m.cutMs) AS cutMs FROM classes c JOIN moves m ON m.number = c.number WHERE ${chosen.sql} GROUP BY m.movement ORDER BY name`,
    ).all(chosen.with) as Move[],
    lateStart: spreadOf(starts, 0), grew: spreadOf(grown, -5),
    cuts: {
      classes: late,
      sections: db.prepare(
        `SELECT k.kind, sum(k.ms) AS ms, sum(k.plannedMs) AS plannedMs FROM classes c JOIN cuts k ON k.number = c.number WHERE ${chosen.sql} AND c.late = 1 GROUP BY k.kind`,
      ).all(chosen.with) as Cut[],
      moves: db.prepare(
        `SELECT m.movement, max(m.name) AS name, sum(m.cutMs) AS ms, count(*) AS classes FROM classes c JOIN moves m ON m.number = c.number
         WHERE ${chosen.sql} AND c.late = 1 AND m.cutMs > 0 GROUP BY m.movement ORDER BY ms DESC, name LIMIT 12`,
      ).all(chosen.with) as Answer['cuts']['moves'],
    },
  };
}

function weekOf(monday: number, w: WeekDraft): ReviewWeek {
  const { monotony, strain } = weekLoad(w.daily);
  const rated = w.sums.rated > 0;
  return {
    monday, ...w.sums, monotony: rated ? monotony : null, strain: rated ? strain : null,
    moderateMs: w.moderateMs, vigorousMs: w.vigorousMs, muscleDays: w.muscle.size, balanceDays: w.balance.size, kcalPerKg: w.kcalPerKg,
  };
}

function entry<V>(map: Map<string, V>, key: string, make: () => V): V;
function entry<V>(map: Map<number, V>, key: number, make: () => V): V;
function entry<V>(map: Map<string | number, V>, key: string | number, make: () => V): V {
  const known = map.get(key);
  if (known !== undefined) return known;
  const made = make();
  map.set(key, made);
  return made;
}

const span = ({ db }: Records) => db.prepare('SELECT min(day) AS first, max(day) AS last FROM classes WHERE stopped = 0').get() as { first: number | null; last: number | null };

function choicesOf({ db }: Records): Answer['choices'] {
  const all = (sql: string) => db.prepare(sql).all() as { key: string; name: string }[];
  return {
    rooms: all('SELECT DISTINCT room AS key, room AS name FROM classes WHERE stopped = 0 ORDER BY 1'),
    plans: all('SELECT plan AS key, max(name) AS name FROM classes WHERE stopped = 0 GROUP BY plan ORDER BY 2'),
    series: all('SELECT series AS key, series AS name FROM classes WHERE stopped = 0 GROUP BY series HAVING count(*) > 1 ORDER BY 1'),
  };
}
