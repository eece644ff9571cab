/**
 * Owns the answer about many classes: one pass over their records, sums by week, room,
 * plan, series and movement. Runs in the review's own thread. Leaves alone what a record
 * is made of (record.ts) and the sentences and pictures (desk).
 */
import { ANSWERS_LEAST, sessionLoad, weekLoad } from '../../shared/effort/load.ts';
import type { Group, Move, Review, ReviewWeek } from '../../shared/wire/review.ts';
import { type Cut, mondayOf } from './record.ts';
import type { Kept, Records } from './records.ts';
import { GREW_FROM_MIN, MORE_MS, spreadOf, START_FROM_MIN } from './spread.ts';

export interface Asked { readonly from: number; readonly to: number; readonly room?: string | undefined; readonly plan?: string | undefined; readonly series?: string | undefined; readonly movement?: string | undefined }
export type Answer = Omit<Review, 'studio' | 'toRead' | 'from' | 'to'>;

type Row = Kept;
const MINUTE_MS = 60_000;
const WEEK = 7;

/** Moves that are named among those left out. */
export const CUT_MOVES = 12;

type Draft<T> = { -readonly [K in keyof T]: T[K] };
function sumMove(sum: Draft<Move>, m: Move): void {
  sum.movement = m.movement;
  sum.name = m.name;
  sum.workMs += m.workMs;
  sum.formStops += m.formStops;
  sum.shows += m.shows;
  sum.showPlannedMs += m.showPlannedMs;
  sum.showRealMs += m.showRealMs;
  sum.cutMs += m.cutMs;
}

export type Sums = { -readonly [K in keyof Omit<Group, 'key' | 'name'>]: Group[K] };
const none = (): Sums => ({ held: 0, workMs: 0, moveMs: 0, totalMs: 0, heads: 0, headClasses: 0, rated: 0, load: 0, lateOf: 0, lateStart: 0, grew: 0, formStops: 0 });

/** Null while there are fewer than three answers. */
export const loadOf = (r: Pick<Row, 'answers' | 'ratingSum' | 'totalMs'>): number | null =>
  r.answers < ANSWERS_LEAST ? null : sessionLoad(r.ratingSum / r.answers, r.totalMs / MINUTE_MS);

/** @param move the movement that is chosen, as it was in this class */
function add(s: Sums, r: Row, load: number | null, move: Move | undefined): void {
  s.held += 1;
  s.workMs += r.workMs;
  s.totalMs += r.totalMs;
  s.moveMs += move?.workMs ?? 0;
  s.formStops += move ? move.formStops : r.formStops;
  if (r.headCount !== null) { s.heads += r.headCount; s.headClasses += 1; }
  if (load !== null) { s.rated += 1; s.load += load; }
  if (r.lateStartMs !== null && r.grewMs !== null) {
    s.lateOf += 1;
    if (r.lateStartMs > MORE_MS) s.lateStart += 1;
    if (r.grewMs > MORE_MS) s.grew += 1;
  }
}

interface WeekDraft { sums: Sums; daily: number[]; moderateMs: number; vigorousMs: number; muscle: Set<number>; balance: Set<number>; kcalPerKg: number }
const newWeek = (): WeekDraft => ({ sums: none(), daily: Array<number>(WEEK).fill(0), moderateMs: 0, vigorousMs: 0, muscle: new Set(), balance: new Set(), kcalPerKg: 0 });

/** Answers that are kept until a record changes: a page that is opened again asks the same. */
const KEPT = 64;
const kept = new WeakMap<ReadonlyMap<number, Kept>, { version: number; answers: Map<string, Answer>; about: Pick<Answer, 'first' | 'last' | 'choices'> }>();

export function many(records: Records, asked: Asked): Answer {
  const all = records.all();
  const version = records.version();
  let known = kept.get(all);
  if (!known || known.version !== version) {
    known = { version, answers: new Map(), about: { ...span(records), choices: choicesOf(records) } };
    kept.set(all, known);
  }
  const key = JSON.stringify([asked.from, asked.to, asked.room, asked.plan, asked.series, asked.movement]);
  const before = known.answers.get(key);
  if (before) return before;
  const movement = asked.movement === undefined ? null : (known.about.choices.movements.find((m) => m.key === asked.movement) ?? { key: asked.movement, name: asked.movement });
  const answer = { ...known.about, movement, ...sumsOf(records, asked) };
  if (known.answers.size >= KEPT) known.answers.clear();
  known.answers.set(key, answer);
  return answer;
}

function sumsOf(records: Records, asked: Asked): Omit<Answer, 'first' | 'last' | 'choices' | 'movement'> {
  const weeks = new Map<number, WeekDraft>();
  const [rooms, plans, series] = [new Map<string, Sums>(), new Map<string, Sums>(), new Map<string, Sums>()];
  const names = new Map<string, string>();
  const [starts, grown]: [number[], number[]] = [[], []];
  let held = 0;
  let late = 0;
  let stopped = 0;
  const moves: Draft<Move>[] = [];
  const cutMoves = new Map<string, Draft<Answer['cuts']['moves'][number]>>();
  const cutSections = new Map<Cut['kind'], Draft<Cut>>();
  for (const r of records.all().values()) {
    if (r.day < asked.from || r.day > asked.to) continue;
    if (r.stopped !== 0) { stopped += 1; continue; }
    if ((asked.room ?? r.room) !== r.room || (asked.plan ?? r.plan) !== r.plan || (asked.series ?? r.series) !== r.series) continue;
    const move = asked.movement === undefined ? undefined : r.moves.find((m) => m.movement === asked.movement);
    if (asked.movement !== undefined && !move) continue;
    const own = move ? [move] : r.moves;
    for (const m of own) {
      while (moves.length <= m.place) moves.push({ movement: '', name: '', workMs: 0, formStops: 0, shows: 0, showPlannedMs: 0, showRealMs: 0, cutMs: 0 });
      sumMove(moves[m.place] as Draft<Move>, m);
    }
    if (r.late) {
      for (const c of r.cuts) {
        const sum = entry(cutSections, c.kind, () => ({ kind: c.kind, ms: 0, plannedMs: 0 }));
        sum.ms += c.ms;
        sum.plannedMs += c.plannedMs;
      }
      for (const m of own) {
        if (m.cutMs === 0) continue;
        const sum = entry(cutMoves, m.movement, () => ({ movement: m.movement, name: m.name, ms: 0, classes: 0 }));
        sum.ms += m.cutMs;
        sum.classes += 1;
      }
    }
    held += 1;
    late += r.late;
    const load = loadOf(r);
    const monday = mondayOf(r.day);
    const week = entry(weeks, monday, newWeek);
    add(week.sums, r, load, move);
    week.daily[r.day - monday] = (week.daily[r.day - monday] ?? 0) + (load ?? 0);
    week.moderateMs += r.moderateMs;
    week.vigorousMs += r.vigorousMs;
    week.kcalPerKg += r.kcalPerKg;
    if (r.muscle) week.muscle.add(r.day);
    if (r.balance) week.balance.add(r.day);
    add(entry(rooms, r.room, none), r, load, move);
    add(entry(plans, r.plan, none), r, load, move);
    add(entry(series, r.series, none), r, load, move);
    names.set(r.plan, r.name);
    if (r.lateStartMs !== null && r.grewMs !== null) { starts.push(r.lateStartMs); grown.push(r.grewMs); }
  }
  // Of a move that was called otherwise in some classes the newest name counts, here as everywhere.
  const moveNames = new Map(moves.map((m) => [m.movement, m.name]));
  const listed = (groups: ReadonlyMap<string, Sums>, name: (key: string) => string): Group[] =>
    [...groups].map(([key, sums]) => ({ key, name: name(key), ...sums })).sort((a, b) => (a.key < b.key ? -1 : 1));
  return {
    held,
    stopped,
    weeks: [...weeks].sort(([a], [b]) => a - b).map(([monday, week]) => weekOf(monday, { ...week, muscleDays: week.muscle.size, balanceDays: week.balance.size })),
    rooms: listed(rooms, (key) => key), plans: listed(plans, (key) => names.get(key) ?? key), series: listed(series, (key) => key),
    moves: moves.filter((m) => m.movement !== '').sort((a, b) => (a.name < b.name ? -1 : 1)),
    lateStart: spreadOf(starts, START_FROM_MIN), grew: spreadOf(grown, GREW_FROM_MIN),
    cuts: {
      classes: late,
      sections: [...cutSections.values()],
      moves: [...cutMoves.values()].map((m) => ({ ...m, name: moveNames.get(m.movement) ?? m.name })).sort((a, b) => b.ms - a.ms || (a.name < b.name ? -1 : 1)).slice(0, CUT_MOVES),
    },
  };
}

/** @param w daily: load of each of its seven days */
export function weekOf(monday: number, w: { readonly sums: Sums; readonly daily: readonly number[] } & Pick<ReviewWeek, 'moderateMs' | 'vigorousMs' | 'muscleDays' | 'balanceDays' | 'kcalPerKg'>): ReviewWeek {
  const { monotony, strain } = weekLoad(w.daily);
  const rated = w.sums.rated > 0;
  return {
    monday, ...w.sums, monotony: rated ? monotony : null, strain: rated ? strain : null,
    moderateMs: w.moderateMs, vigorousMs: w.vigorousMs, muscleDays: w.muscleDays, balanceDays: w.balanceDays, kcalPerKg: w.kcalPerKg,
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

function span(records: Records): { readonly first: number | null; readonly last: number | null } {
  let first: number | null = null;
  let last: number | null = null;
  for (const r of records.all().values()) {
    if (r.stopped !== 0) continue;
    if (first === null || r.day < first) first = r.day;
    if (last === null || r.day > last) last = r.day;
  }
  return { first, last };
}

/** What there is to choose from. A time of the week is one from its second class on. */
function choicesOf(records: Records): Answer['choices'] {
  const [rooms, plans, series] = [new Map<string, number>(), new Map<string, string>(), new Map<string, number>()];
  const movements: (Move | undefined)[] = [];
  for (const r of records.all().values()) {
    if (r.stopped !== 0) continue;
    for (const m of r.moves) movements[m.place] = m;
    rooms.set(r.room, 1);
    plans.set(r.plan, r.name);
    series.set(r.series, (series.get(r.series) ?? 0) + 1);
  }
  const keyed = (keys: Iterable<string>, name: (key: string) => string) => [...keys].map((key) => ({ key, name: name(key) })).sort((a, b) => (a.name < b.name ? -1 : 1));
  return {
    rooms: keyed(rooms.keys(), (key) => key), plans: keyed(plans.keys(), (key) => plans.get(key) ?? key),
    series: keyed([...series].filter(([, n]) => n > 1).map(([key]) => key), (key) => key),
    movements: movements.flatMap((m) => (m ? [{ key: m.movement, name: m.name }] : [])).sort((a, b) => (a.name < b.name ? -1 : 1)),
  };
}
