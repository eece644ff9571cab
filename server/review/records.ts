/**
 * Owns the file of records: one row for each class that is over, made from its log and
 * made again whenever its shape, the time zone or the log changes. It may be deleted at any
 * time; everything in it comes from the log. Runs in the review's own thread, so that no
 * question about ten years holds up a command.
 */
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { Stamp as InLog } from '../store/keeping.ts';
import type { Move } from '../../shared/wire/review.ts';
import type { Cut, Recorded } from './record.ts';

export const RECORDS_FILE = 'records.db';
/** What of a class in the log may change after it is over. */
export type Stamp = Omit<InLog, 'endedAt'>;
/** Raised whenever record.ts makes anything else of a log; old files, and rows over houses, are made again. */
export const SHAPE = 2;

const columns = [
  'number', 'id', 'room', 'plan', 'name', 'series', 'startedAt', 'endedAt', 'day', 'minute', 'how', 'headCount', 'plannedMs', 'totalMs', 'workMs',
  'pausedMs', 'pauses', 'formStops', 'showPlannedMs', 'showRealMs', 'lateMs', 'lateStartMs', 'grewMs', 'late', 'cutMs', 'moderateMs', 'vigorousMs',
  'muscle', 'balance', 'kcalPerKg', 'stopped', 'answers', 'ratingSum',
] as const;

const shape = `
  CREATE TABLE about (one INTEGER PRIMARY KEY CHECK (one = 1), shape INTEGER NOT NULL, timeZone TEXT NOT NULL) STRICT;
  CREATE TABLE classes (
    number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, room TEXT, plan TEXT, name TEXT, series TEXT, startedAt INTEGER, endedAt INTEGER,
    day INTEGER, minute INTEGER, how TEXT, headCount INTEGER, plannedMs INTEGER, totalMs INTEGER, workMs INTEGER, pausedMs INTEGER, pauses INTEGER,
    formStops INTEGER, showPlannedMs INTEGER, showRealMs INTEGER, lateMs INTEGER, lateStartMs INTEGER, grewMs INTEGER, late INTEGER, cutMs INTEGER,
    moderateMs INTEGER, vigorousMs INTEGER, muscle INTEGER, balance INTEGER, kcalPerKg REAL, stopped INTEGER NOT NULL, answers INTEGER NOT NULL, ratingSum INTEGER NOT NULL
  ) STRICT;
  CREATE INDEX classes_of_day ON classes (day);
  CREATE TABLE moves (
    number INTEGER NOT NULL, movement TEXT NOT NULL, name TEXT NOT NULL, workMs INTEGER NOT NULL, formStops INTEGER NOT NULL, shows INTEGER NOT NULL,
    showPlannedMs INTEGER NOT NULL, showRealMs INTEGER NOT NULL, cutMs INTEGER NOT NULL, PRIMARY KEY (number, movement)
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE cuts (number INTEGER NOT NULL, kind TEXT NOT NULL, ms INTEGER NOT NULL, plannedMs INTEGER NOT NULL, PRIMARY KEY (number, kind)) STRICT, WITHOUT ROWID;
`;

function open(file: string, timeZone: string): Database.Database {
  const fresh = (): Database.Database => {
    for (const end of ['', '-wal', '-shm']) rmSync(file + end, { force: true });
    const db = new Database(file);
    // What is lost in a power cut is made again from the log: nothing waits for a slow disk.
    db.pragma('synchronous = OFF');
    db.pragma('journal_mode = WAL');
    db.transaction(() => {
      db.exec(shape);
      db.prepare('INSERT INTO about VALUES (1, ?, ?)').run(SHAPE, timeZone);
    })();
    return db;
  };
  try {
    const db = new Database(file, { fileMustExist: true });
    const about = db.prepare('SELECT shape, timeZone FROM about').get() as { shape: number; timeZone: string } | undefined;
    if (about?.shape === SHAPE && about.timeZone === timeZone) return db;
    db.close();
  } catch {
    // Not there, or not whole: it is made again.
  }
  return fresh();
}

/** @param folder null keeps the records in memory: where the data folder cannot be written */
/** One class as its row says, with its moves and cuts. */
export interface Kept {
  number: number; room: string; plan: string; name: string; series: string; day: number; headCount: number | null;
  totalMs: number; workMs: number; formStops: number; lateStartMs: number | null; grewMs: number | null; late: number;
  moderateMs: number; vigorousMs: number; muscle: number; balance: number; kcalPerKg: number; stopped: number; answers: number; ratingSum: number;
  moves: readonly Numbered[]; cuts: readonly Cut[];
}
/** A move with the place of its sum in a list of all moves: no name is compared when two hundred thousand are added up. */
export type Numbered = Move & { readonly place: number };
type Row = Omit<Kept, 'moves' | 'cuts'>;

export interface Records {
  /** Every class that is in, held in memory (ten years of a busy studio are some 50 MB): sums over all of them take milliseconds. */
  readonly all: () => ReadonlyMap<number, Kept>;
  /** Grows whenever anything of it changes. */
  readonly version: () => number;
  readonly db: Database.Database;
  /** Those of these classes whose record is missing or older than their log. */
  readonly stale: (stamps: readonly Stamp[]) => Stamp[];
  /** Null where its log cannot be read: it is in no figure, and is not read again until it changes. */
  readonly put: (stamp: Stamp, recorded: Recorded | null) => void;
  readonly remove: (ids: readonly string[]) => void;
  /** Leaves out records whose class is not in the log any more: deleted while nobody listened, or a backup that was put back. */
  readonly keepOnly: (numbers: ReadonlySet<number>) => void;
  readonly close: () => void;
}

export function openRecords(folder: string | null, timeZone: string): Records {
  const db = open(folder === null ? ':memory:' : join(folder, RECORDS_FILE), timeZone);
  db.pragma('synchronous = OFF');
  db.pragma('cache_size = -65536');
  db.pragma('secure_delete = ON');
  const known = db.prepare('SELECT headCount, answers, ratingSum FROM classes WHERE number = ? AND id = ?');
  const putClass = db.prepare(`INSERT INTO classes (${columns.join(', ')}) VALUES (${columns.map((c) => `@${c}`).join(', ')})`);
  const putEmpty = db.prepare('INSERT INTO classes (number, id, headCount, stopped, answers, ratingSum) VALUES (@number, @id, @headCount, 2, @answers, @ratingSum)');
  const putMove = db.prepare('INSERT INTO moves VALUES (@number, @movement, @name, @workMs, @formStops, @shows, @showPlannedMs, @showRealMs, @cutMs)');
  const putCut = db.prepare('INSERT INTO cuts VALUES (@number, @kind, @ms, @plannedMs)');
  const numberOf = db.prepare('SELECT number FROM classes WHERE id = ?').pluck();
  const drop = ['moves', 'cuts', 'classes'].map((table) => db.prepare(`DELETE FROM ${table} WHERE number = ?`));
  const flag = (b: boolean) => (b ? 1 : 0);

  let held: Map<number, Kept> | null = null;
  let version = 0;
  const places = new Map<string, number>();
  const removeNumber = (number: number) => {
    for (const statement of drop) statement.run(number);
    version += 1;
    held?.delete(number);
  };
  return {
    db,
    version: () => version,
    all: () => {
      held ??= readAll(db, places);
      return held;
    },
    stale: (stamps: readonly Stamp[]): Stamp[] => stamps.filter((s) => {
      const row = known.get(s.number, s.id) as Pick<Stamp, 'headCount' | 'answers' | 'ratingSum'> | undefined;
      return row === undefined || row.headCount !== s.headCount || row.answers !== s.answers || row.ratingSum !== s.ratingSum;
    }),
    put: db.transaction((stamp: Stamp, recorded: Recorded | null): void => {
      removeNumber(stamp.number);
      const before = numberOf.get(stamp.id) as number | undefined;
      if (before !== undefined) removeNumber(before);
      if (!recorded) return void putEmpty.run(stamp);
      const { record: r, moves, cuts } = recorded;
      putClass.run({ ...r, ...stamp, late: flag(r.late), muscle: flag(r.muscle), balance: flag(r.balance), stopped: flag(recorded.stopped) });
      for (const move of moves) putMove.run({ ...move, number: stamp.number });
      for (const cut of cuts) putCut.run({ ...cut, number: stamp.number });
      held?.set(stamp.number, { ...r, ...stamp, late: flag(r.late), muscle: flag(r.muscle), balance: flag(r.balance), stopped: flag(recorded.stopped), moves: moves.map((m) => numbered(m, m.movement, m.name, placeOf(places, m.movement))), cuts });
    }),
    remove: db.transaction((ids: readonly string[]): void => {
      for (const id of ids) {
        const number = numberOf.get(id) as number | undefined;
        if (number !== undefined) removeNumber(number);
      }
    }),
    keepOnly: (numbers: ReadonlySet<number>): void => {
      for (const number of db.prepare('SELECT number FROM classes').pluck().all() as number[]) if (!numbers.has(number)) removeNumber(number);
    },
    close: () => { db.close(); },
  };
}

/** All of one shape, so that adding them up is fast. */
const numbered = (m: Move, movement: string, name: string, place: number): Numbered => ({
  movement, name, workMs: m.workMs, formStops: m.formStops, shows: m.shows, showPlannedMs: m.showPlannedMs, showRealMs: m.showRealMs, cutMs: m.cutMs, place,
});

function placeOf(places: Map<string, number>, name: string): number {
  const known = places.get(name) ?? places.size;
  places.set(name, known);
  return known;
}

function readAll(db: Database.Database, places: Map<string, number>): Map<number, Kept> {
  // One string for each name, however many rows it stands in.
  const names = new Map<string, string>();
  const same = (name: string): string => {
    const known = names.get(name) ?? name;
    names.set(name, known);
    return known;
  };
  const byNumber = <T>(sql: string): Map<number, T[]> => {
    const lists = new Map<number, T[]>();
    for (const { number, ...row } of db.prepare(sql).iterate() as IterableIterator<T & { number: number }>) {
      const list = lists.get(number);
      if (list) list.push(row as T);
      else lists.set(number, [row as T]);
    }
    return lists;
  };
  const moves = byNumber<Move>('SELECT * FROM moves');
  const cuts = byNumber<Cut>('SELECT * FROM cuts');
  const rows = db.prepare(
    `SELECT number, room, plan, name, series, day, headCount, totalMs, workMs, formStops, lateStartMs, grewMs, late, moderateMs, vigorousMs, muscle, balance,
     kcalPerKg, stopped, answers, ratingSum FROM classes WHERE stopped < 2 ORDER BY number`,
  ).iterate() as IterableIterator<Row>;
  const all = new Map<number, Kept>();
  for (const row of rows) {
    const own = (moves.get(row.number) ?? []).map((m) => numbered(m, same(m.movement), same(m.name), placeOf(places, m.movement)));
    all.set(row.number, { ...row, room: same(row.room), plan: same(row.plan), name: same(row.name), series: same(row.series), moves: own, cuts: cuts.get(row.number) ?? [] });
  }
  return all;
}
