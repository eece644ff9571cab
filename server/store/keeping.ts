/**
 * Owns what is asked of the log beside the classes that run: which are over, counts of
 * answers, deleting, a copy while it is written. Runs in the worker. Errors are SQLite's.
 */
import type Database from 'better-sqlite3';
import type { ClassSummary } from '../../shared/wire/http.ts';

/** How a class stands in the log: when any of it changes, what was made of the class is made again. */
export interface Stamp {
  readonly number: number;
  readonly id: string;
  readonly endedAt: number;
  readonly headCount: number | null;
  readonly answers: number;
  readonly ratingSum: number;
}

/** How far a class is in the log, for whoever copies it elsewhere; classes are numbered as they were started. */
export interface Far {
  readonly number: number;
  readonly id: string;
  readonly startedAt: number;
  readonly endedAt: number | null;
  /** Number of the newest event. */
  readonly seq: number;
  /** The command that led to it; null where there is none. */
  readonly last: string | null;
  /** How many answers there are. */
  readonly answers: number;
}

/** Pages that are copied at a time; commands are written in between. */
const BACKUP_PAGES = 200;

export function keepingOf(db: Database.Database) {
  const stamps = db.prepare(
    `SELECT s.number, s.id, s.endedAt, s.headCount, coalesce(sum(a.n), 0) AS answers, coalesce(sum(a.n * a.rating), 0) AS ratingSum
     FROM sessions s LEFT JOIN answers a ON a.session = s.id
     WHERE s.number > ? AND s.endedAt IS NOT NULL GROUP BY s.number ORDER BY s.number LIMIT ?`,
  );
  const far = `SELECT s.number, s.id, s.startedAt, s.endedAt, (SELECT coalesce(max(seq), 0) FROM events WHERE session = s.id) AS seq,
    (SELECT command FROM events WHERE session = s.id ORDER BY seq DESC LIMIT 1) AS last, (SELECT coalesce(sum(n), 0) FROM answers WHERE session = s.id) AS answers FROM sessions s`;
  const since = db.prepare(`${far} WHERE s.number > ? ORDER BY s.number LIMIT ?`);
  const farOf = db.prepare(`${far} WHERE s.id = ?`);
  const texts = db.prepare('SELECT event FROM events WHERE session = ? ORDER BY seq').pluck();
  const summary = db.prepare('SELECT id, room, plan, name, startedAt, endedAt, how, headCount FROM sessions WHERE id = ?');
  const count = db.prepare('INSERT INTO answers (session, rating, n) VALUES (?, ?, 1) ON CONFLICT (session, rating) DO UPDATE SET n = n + 1');
  const counts = db.prepare('SELECT rating, n FROM answers WHERE session = ?');
  const atLeast = db.prepare('INSERT INTO answers (session, rating, n) VALUES (?, ?, ?) ON CONFLICT (session, rating) DO UPDATE SET n = max(n, excluded.n)');
  const old = db.prepare('SELECT id FROM sessions WHERE endedAt IS NOT NULL AND endedAt < ? ORDER BY number LIMIT ?').pluck();
  const gone = ['answers', 'events'].map((table) => db.prepare(`DELETE FROM ${table} WHERE session = ?`));
  const goneClass = db.prepare('DELETE FROM sessions WHERE id = ?');

  const remove = (ids: readonly string[]): number => {
    if (ids.length === 0) return 0;
    const removed = db.transaction(() => ids.reduce((n, id) => {
      for (const statement of gone) statement.run(id);
      return n + goneClass.run(id).changes;
    }, 0))();
    // What is deleted was written over (database.ts); here it goes from what was written ahead too.
    db.pragma('wal_checkpoint(TRUNCATE)');
    return removed;
  };

  return {
    stamps: (after: number, limit: number) => stamps.all(after, limit) as Stamp[],
    since: (after: number, limit: number) => since.all(after, limit) as Far[],
    /** Of these classes those that are there, in no order. */
    far: (ids: readonly string[]) => ids.flatMap((id) => (farOf.get(id) as Far | undefined) ?? []),
    texts: (session: string) => texts.all(session) as string[],
    summary: (session: string) => (summary.get(session) as ClassSummary | undefined) ?? null,
    answer: (session: string, rating: number): boolean => count.run(session, rating).changes === 1,
    answers: (session: string) => counts.all(session) as { rating: number; n: number }[],
    /** A copy of counts that are kept elsewhere: they only grow, so what is copied twice or late changes nothing. */
    answersAtLeast: (session: string, counts: readonly { readonly rating: number; readonly n: number }[]): boolean => {
      db.transaction(() => { for (const { rating, n } of counts) atLeast.run(session, rating, n); })();
      return true;
    },
    /** All of these classes; how many there were. */
    remove,
    /** Ids of classes that ended before an instant, oldest first. */
    old: (before: number, limit: number) => old.all(before, limit) as string[],
    /** SQLite's online backup: a whole copy of what was committed when it ended, while classes run. */
    backup: async (file: string): Promise<boolean> => {
      await db.backup(file, { progress: () => BACKUP_PAGES });
      return true;
    },
  };
}
