/**
 * Owns the SQLite file: opening it, its shape, and what is written into it. Runs
 * in the worker only, so that a slow disk holds up no clock. Leaves alone what
 * the rows mean.
 */
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, renameSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { ClassSummary } from '../../shared/wire/http.ts';
import type { Appended, Batch, ClassPage, Known } from '../core/store.ts';
import type { TimeMark } from '../core/server-time.ts';
import { keepingOf } from './keeping.ts';
import { showsIn } from './past-shows.ts';
import { parsed } from './log-store.ts';
import { migrations } from './shape.ts';

export type Db = Database.Database;
export const FILE = 'hallclock.db';

/** A sentence that says what to do; nothing was changed on the disk. */
export class CannotOpen extends Error {}

function refuseBroken(file: string, what: string): never {
  throw new CannotOpen(
    `The log ${file} ${what}. It was left as it is. Move the whole data folder away and put a copy of it back, or start with another folder (HALLCLOCK_DATA) to begin an empty log.`,
  );
}

/**
 * A new file is made beside its place and then put there, so that a file in its
 * place that is empty or cut off is never taken for a new one.
 */
function create(file: string): void {
  const draft = `${file}.new`;
  for (const end of ['', '-wal', '-shm', '-journal']) rmSync(draft + end, { force: true });
  const db = new Database(draft);
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = FULL');
  migrate(db);
  db.close();
  renameSync(draft, file);
}

function migrate(db: Db): void {
  db.exec('CREATE TABLE IF NOT EXISTS migrations (version INTEGER PRIMARY KEY) STRICT');
  const version = (db.prepare('SELECT coalesce(max(version), 0) AS v FROM migrations').get() as { v: number }).v;
  if (version > migrations.length) {
    throw new CannotOpen(`The log was written by a newer Hallclock (shape ${version}, this one knows ${migrations.length}). Start that one.`);
  }
  migrations.slice(version).forEach(({ sqlite }, i) => {
    db.transaction(() => {
      db.exec(sqlite);
      db.prepare('INSERT INTO migrations VALUES (?)').run(version + i + 1);
    })();
  });
}

const codeOf = (error: unknown): string => (error instanceof Error && 'code' in error ? String(error.code) : '');

function openFile(file: string): Db {
  if (!existsSync(file) && existsSync(`${file}-wal`)) refuseBroken(file, 'is missing although its newest part is there');
  if (existsSync(file) && statSync(file).size === 0) refuseBroken(file, 'is empty');
  if (!existsSync(file)) create(file);
  try {
    const db = new Database(file, { timeout: 2_000 });
    db.pragma('locking_mode = EXCLUSIVE');
    db.pragma('journal_mode = WAL');
    db.pragma('synchronous = FULL');
    db.pragma('foreign_keys = ON');
    // What is deleted, and what moves when pages are split, is written over: a deleted class is in no byte of the file.
    db.pragma('secure_delete = ON');
    const check = db.pragma('quick_check(1)', { simple: true });
    if (check !== 'ok') refuseBroken(file, `is damaged (${String(check).replace(/\s+/g, ' ')})`);
    migrate(db);
    return db;
  } catch (error) {
    const code = codeOf(error);
    if (code.startsWith('SQLITE_CORRUPT') || code === 'SQLITE_NOTADB') refuseBroken(file, 'is damaged or cut off');
    if (code.startsWith('SQLITE_BUSY')) {
      throw new CannotOpen(`The log ${file} is in use: another Hallclock runs with this data folder. Stop that one, or choose another folder (HALLCLOCK_DATA).`);
    }
    throw error;
  }
}

export interface Opened {
  readonly db: Db;
  /** Why nothing can be written, or null. The log that is there can be read all the same. */
  readonly readOnly: string | null;
}

/** Opens the log of a data folder. Where the folder cannot be written, a copy is opened and nothing will be kept. */
export function openDatabase(folder: string): Opened {
  const file = join(folder, FILE);
  try {
    mkdirSync(folder, { recursive: true });
    return { db: openFile(file), readOnly: null };
  } catch (error) {
    const code = codeOf(error);
    if (error instanceof CannotOpen || !/^(EACCES|EROFS|EPERM|ENOSPC|SQLITE_READONLY|SQLITE_CANTOPEN|SQLITE_FULL|SQLITE_IOERR)/.test(code)) throw error;
    const copy = join(mkdtempSync(join(tmpdir(), 'hallclock-')), FILE);
    for (const end of ['', '-wal']) if (existsSync(file + end)) copyFileSync(file + end, copy + end);
    return { db: openFile(copy), readOnly: `The data folder ${folder} cannot be written (${code}).` };
  }
}

/** What would be added does not follow on what is there. */
class Taken extends Error {}

/** All that is asked of the file. Errors are SQLite's; worker.ts says what they mean. */
export function keeper(db: Db, warn: (sentence: string) => void) {
  const upsert = db.prepare(
    `INSERT INTO sessions (id, room, plan, name, startedAt, endedAt, how, headCount)
     VALUES (@id, @room, @plan, @name, @startedAt, @endedAt, @how, @headCount)
     ON CONFLICT (id) DO UPDATE SET endedAt = excluded.endedAt, how = excluded.how, headCount = excluded.headCount`,
  );
  const begin = db.prepare('BEGIN IMMEDIATE');
  const commit = db.prepare('COMMIT');
  /** The lines of running classes as they were last written: most commands leave theirs as it is. */
  const lines = new Map<string, string>();
  const update = db.prepare('UPDATE sessions SET endedAt = @endedAt, how = @how, headCount = @headCount WHERE id = @id');
  const newest = db.prepare('SELECT coalesce(max(seq), 0) AS seq FROM events WHERE session = ?');
  const insert = db.prepare('INSERT INTO events (session, seq, command, part, event) VALUES (?, ?, ?, ?, ?)');
  const rows = db.prepare('SELECT seq, command, event FROM events WHERE session = ? AND seq > ? ORDER BY seq');
  const last = db.prepare('SELECT id FROM sessions WHERE room = ? ORDER BY number DESC LIMIT 1');
  const page = db.prepare('SELECT * FROM sessions WHERE number < ? ORDER BY number DESC LIMIT ?');

  const logOf = (session: string, after = 0) =>
    (rows.all(session, after) as { seq: number; command: string; event: string }[]).map((r) => ({ ...r, event: parsed(r.event) }));

  return {
    ...keepingOf(db),
    append: ({ summary, seq, command, events, after }: Batch): Appended => {
      let committing = false;
      try {
        begin.run();
        if (after !== undefined && after !== ((last.get(summary.room) as { id: string } | undefined)?.id ?? null)) throw new Taken();
        const line = JSON.stringify(summary);
        if (lines.get(summary.id) !== line) upsert.run(summary);
        const taken = (newest.get(summary.id) as { seq: number }).seq;
        if (taken !== seq - 1) throw new Taken();
        events.forEach((event, i) => { insert.run(summary.id, seq + i, command, i, JSON.stringify(event)); });
        committing = true;
        commit.run();
        if (summary.how === 'running') lines.set(summary.id, line);
        else lines.delete(summary.id);
        return 'stored';
      } catch (error) {
        lines.delete(summary.id);
        if (db.inTransaction) db.exec('ROLLBACK');
        if (error instanceof Taken || codeOf(error) === 'SQLITE_CONSTRAINT_UNIQUE') return 'taken';
        if (!committing) throw error;
        warn(`it cannot be told whether a command was written: ${String(error)}`);
        return 'unknown';
      }
    },
    log: logOf,
    latest: (room: string, known: Known | null = null) => {
      const found = last.get(room) as { id: string } | undefined;
      return found ? logOf(found.id, found.id === known?.session ? known.seq : 0) : [];
    },
    /** The newest classes, each with the number of its events. */
    newest: (limit: number) => db.prepare(
      'SELECT id, (SELECT coalesce(max(seq), 0) FROM events WHERE session = id) AS seq FROM sessions ORDER BY number DESC LIMIT ?',
    ).all(limit) as { id: string; seq: number }[],
    shows: (session: string) => showsIn(logOf(session)),
    close: (summary: ClassSummary): boolean => update.run(summary).changes === 1,
    classes: (before: number | null, limit: number): ClassPage => {
      const found = page.all(before ?? Number.MAX_SAFE_INTEGER, limit + 1) as (ClassSummary & { number: number })[];
      const shown = found.slice(0, limit);
      return {
        classes: shown.map(({ number: _number, ...summary }) => summary),
        before: found.length > limit ? (shown.at(-1)?.number ?? null) : null,
      };
    },
    phones: () => db.prepare('SELECT token, room, pairedAt FROM phones').all() as { token: string; room: string; pairedAt: number }[],
    unpair: (token: string): boolean => db.prepare('DELETE FROM phones WHERE token = ?').run(token).changes > 0,
    pair: (token: string, room: string, at: number): boolean => {
      db.prepare('INSERT OR REPLACE INTO phones (token, room, pairedAt) VALUES (?, ?, ?)').run(token, room, at);
      return true;
    },
    mark: (): TimeMark | null => (db.prepare('SELECT bootId, offsetMs FROM time').get() as TimeMark | undefined) ?? null,
    setMark: ({ bootId, offsetMs }: TimeMark): boolean => {
      db.prepare('INSERT OR REPLACE INTO time VALUES (1, ?, ?)').run(bootId, offsetMs);
      return true;
    },
    /** Whether the file takes a write; SQLite leaves out one that changes nothing, so something is counted. */
    writable: (): boolean => db.prepare('UPDATE health SET asked = asked + 1').run().changes === 1,
  };
}
export type Keeper = ReturnType<typeof keeper>;
