/**
 * Owns the keeper in PostgreSQL: the same promise as the one on disk, for servers that
 * share one log. A class's next number is the arbiter: of two servers that decide at once
 * one is stored, the other is told that it is taken. Leaves alone who decides again (core).
 */
import { randomUUID } from 'node:crypto';
import pg from 'pg';
import type { ClassSummary } from '../../shared/wire/http.ts';
import type { Appended, Batch } from '../core/store.ts';
import type { TimeMark } from '../core/server-time.ts';
import { chainStore } from './chain-store.ts';
import { CannotOpen } from './database.ts';
import type { Stamp } from './keeping.ts';
import { type LogStore, parsed, rowsOf } from './log-store.ts';
import { showsIn } from './past-shows.ts';
import { forPostgres, migrations } from './shape.ts';

/** A command is refused within this when the engine does not answer. */
const PATIENCE_MS = 1_500;
/** Connections that one server holds open at most. */
const CONNECTIONS = 8;
/** Between two tries to listen again; until then rooms ask by themselves. */
const LISTEN_AGAIN_MS = 1_000;
const CHANNEL = 'hallclock_grown';
const TALK = 'hallclock_said';
/** Two servers that start at once bring the shape up one after the other (any number that nobody else uses). */
const SHAPE_LOCK = 7_310_551;

/** Numbers of 64 bits and sums of them: none of ours passes 2^53. */
const types: pg.CustomTypesConfig = {
  getTypeParser: ((oid: number, format?: 'text' | 'binary') =>
    oid === pg.types.builtins.INT8 || oid === pg.types.builtins.NUMERIC ? Number : pg.types.getTypeParser(oid, format)) as typeof pg.types.getTypeParser,
};

const codeOf = (error: unknown): string => (error instanceof Error && 'code' in error ? String(error.code) : '');
/** A number or a command id is taken: unique_violation (PostgreSQL 15, appendix A); an event without its class cannot be, so its class was deleted. */
const TAKEN = new Set(['23505', '23503']);

const q = (sql: string): string => sql.replace(/\b[a-z]+[A-Z]\w*\b/g, '"$&"');
const sentence = {
  upsert: q(`INSERT INTO sessions (id, room, plan, name, startedAt, endedAt, how, headCount) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)
    ON CONFLICT (id) DO UPDATE SET endedAt = excluded.endedAt, how = excluded.how, headCount = excluded.headCount`),
  insert: `INSERT INTO events (session, seq, command, part, event)
    SELECT $1, $2::bigint + part - 1, $3, part - 1, event FROM unnest($4::text[]) WITH ORDINALITY AS given (event, part)`,
  close: q('UPDATE sessions SET endedAt = $2, how = $3, headCount = $4 WHERE id = $1'),
  page: q('SELECT number, id, room, plan, name, startedAt, endedAt, how, headCount FROM sessions WHERE number < $1 ORDER BY number DESC LIMIT $2'),
  stamps: q(`SELECT s.number, s.id, s.endedAt, s.headCount, coalesce(sum(a.n), 0) AS answers, coalesce(sum(a.n * a.rating), 0) AS ratingSum
    FROM sessions s LEFT JOIN answers a ON a.session = s.id
    WHERE s.number > $1 AND s.endedAt IS NOT NULL GROUP BY s.number ORDER BY s.number LIMIT $2`),
  summary: q('SELECT id, room, plan, name, startedAt, endedAt, how, headCount FROM sessions WHERE id = $1'),
  remove: `WITH a AS (DELETE FROM answers WHERE session = ANY($1)), e AS (DELETE FROM events WHERE session = ANY($1))
    DELETE FROM sessions WHERE id = ANY($1)`,
  old: q('SELECT id FROM sessions WHERE endedAt IS NOT NULL AND endedAt < $1 ORDER BY number LIMIT $2'),
} as const;
const columnsOf = (s: ClassSummary) => [s.id, s.room, s.plan, s.name, s.startedAt, s.endedAt, s.how, s.headCount];

async function migrate(client: pg.PoolClient): Promise<void> {
  await client.query('SELECT pg_advisory_lock($1)', [SHAPE_LOCK]);
  try {
    await client.query('CREATE TABLE IF NOT EXISTS migrations (version INTEGER PRIMARY KEY)');
    const { rows: [known] } = await client.query<{ v: number }>('SELECT coalesce(max(version), 0) AS v FROM migrations');
    const version = known?.v ?? 0;
    if (version > migrations.length) throw new CannotOpen(`The log was written by a newer Hallclock (shape ${version}, this one knows ${migrations.length}). Start that one.`);
    for (const [i, step] of migrations.slice(version).entries()) {
      await client.query(`BEGIN; ${forPostgres(step)}; INSERT INTO migrations VALUES (${version + i + 1}); COMMIT`);
    }
  } finally {
    await client.query('SELECT pg_advisory_unlock($1)', [SHAPE_LOCK]).catch(() => {});
  }
}

/** What is wrong with DATABASE_URL, and what to do; its password is not repeated. */
function cannotReach(error: unknown): string {
  const code = codeOf(error);
  const why = code === 'ECONNREFUSED' ? 'nobody answers there: is PostgreSQL started, and are host and port right?'
    : code === 'ENOTFOUND' || code === 'EAI_AGAIN' ? 'its host is not known.'
      : code.startsWith('28') ? 'PostgreSQL does not accept its user or password.'
        : code === '3D000' ? 'there is no database of this name. Make it with createdb.'
          : code === '42501' ? 'its user may not make tables there.' : `PostgreSQL says: ${error instanceof Error ? error.message : String(error)}`;
  return `The log of DATABASE_URL cannot be opened: ${why} Leave DATABASE_URL out to keep the log in the data folder.`;
}

/** Opens the log of a database. Rejects with a sentence that says what to do. */
export async function postgresStore(url: string, warn: (sentence: string) => void): Promise<LogStore> {
  const pool = new pg.Pool({ connectionString: url, max: CONNECTIONS, connectionTimeoutMillis: PATIENCE_MS, query_timeout: PATIENCE_MS, statement_timeout: PATIENCE_MS, types });
  pool.on('error', (error) => warn(`a connection to the log was lost: ${error.message}`));
  // One that is in use when the engine goes says so by itself; whoever uses it hears of it too.
  pool.on('connect', (client) => { client.on('error', () => {}); });
  try {
    const client = await pool.connect();
    try { await migrate(client); } finally { client.release(); }
  } catch (error) {
    await pool.end();
    throw error instanceof CannotOpen ? error : new CannotOpen(cannotReach(error));
  }
  const all = async <R extends pg.QueryResultRow>(sql: string, ...values: readonly unknown[]): Promise<R[]> => (await pool.query<R>(sql, [...values])).rows;
  const changed = async (sql: string, ...values: readonly unknown[]): Promise<number> => (await pool.query(sql, [...values])).rowCount ?? 0;
  const written = (asked: Promise<number>): Promise<boolean> => asked.then((n) => n > 0).catch((error: unknown) => {
    warn(`the log could not be written: ${String(error)}`);
    return false;
  });
  const raw = async (session: string) => (await all<{ seq: number; command: string; event: string }>('SELECT seq, command, event FROM events WHERE session = $1 ORDER BY seq', session))
    .map((row) => ({ ...row, event: parsed(row.event) }));

  async function append({ summary, seq, command, events, after }: Batch): Promise<Appended> {
    let client: pg.PoolClient;
    try {
      client = await pool.connect();
    } catch (error) {
      warn(`a command could not be written: ${String(error)}`);
      return 'failed';
    }
    let committing = false;
    let broken = false;
    try {
      await client.query('BEGIN');
      // Whoever starts a class waits for whoever starts one in the same room.
      if (seq === 1) await client.query('SELECT pg_advisory_xact_lock(hashtext($1))', [summary.room]);
      const { rows: [known] } = await client.query<{ newest: string | null; seq: number }>(
        'SELECT (SELECT id FROM sessions WHERE room = $1 ORDER BY number DESC LIMIT 1) AS newest, (SELECT coalesce(max(seq), 0) FROM events WHERE session = $2) AS seq',
        [summary.room, summary.id],
      );
      if (known?.seq !== seq - 1 || (after !== undefined && known.newest !== after)) {
        await client.query('ROLLBACK');
        return 'taken';
      }
      await client.query(sentence.upsert, columnsOf(summary));
      await client.query(sentence.insert, [summary.id, seq, command, events.map((event) => JSON.stringify(event))]);
      await client.query('SELECT pg_notify($1, $2)', [CHANNEL, `${writer} ${summary.room}`]);
      committing = true;
      await client.query('COMMIT');
      return 'stored';
    } catch (error) {
      broken = !TAKEN.has(codeOf(error));
      if (!broken) await client.query('ROLLBACK').catch(() => { broken = true; });
      if (TAKEN.has(codeOf(error))) return 'taken';
      warn(committing ? `it cannot be told whether a command was written: ${String(error)}` : `a command could not be written: ${String(error)}`);
      return committing ? 'unknown' : 'failed';
    } finally {
      // A connection that failed half way is not used again.
      client.release(broken);
    }
  }

  /** What this server has written itself it knows. */
  const writer = randomUUID();
  /** Phones are the same for all servers. */
  const told = (asked: Promise<number>) => written(asked.then(async (n) => {
    await all('SELECT pg_notify($1, $2)', CHANNEL, `${writer} `);
    return n;
  }));
  let stopped = false;
  let heard: ((room: string | null) => void) | null = null;
  let talk: ((text: string | null) => void) | null = null;
  let listener: pg.Client | null = null;
  let again: ReturnType<typeof setTimeout> | undefined;
  async function listen(): Promise<void> {
    const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: PATIENCE_MS, keepAlive: true });
    const lost = () => {
      if (stopped || listener !== client) return;
      listener = null;
      again = setTimeout(() => { void listen(); }, LISTEN_AGAIN_MS);
    };
    listener = client;
    client.on('error', lost);
    client.on('end', lost);
    client.on('notification', ({ channel, payload = '' }) => {
      const by = payload.split(' ', 1)[0] ?? '';
      const rest = payload.slice(by.length + 1);
      if (by === writer) return;
      if (channel === TALK) talk?.(rest);
      else heard?.(rest === '' ? null : rest);
    });
    try {
      await client.connect();
      await client.query(`LISTEN ${CHANNEL}; LISTEN ${TALK}`);
      // What was said while nobody listened is asked for.
      heard?.(null);
      talk?.(null);
    } catch {
      lost();
    }
  }

  return {
    readOnly: null,
    append,
    log: async (session) => rowsOf(await raw(session)),
    latest: async (room) => {
      const [found] = await all<{ id: string }>('SELECT id FROM sessions WHERE room = $1 ORDER BY number DESC LIMIT 1', room);
      return found ? rowsOf(await raw(found.id)) : [];
    },
    close: ({ id, endedAt, how, headCount }) => written(changed(sentence.close, id, endedAt, how, headCount)),
    classes: async (before, limit) => {
      const found = await all<ClassSummary & { number: number }>(sentence.page, before ?? Number.MAX_SAFE_INTEGER, limit + 1);
      const shown = found.slice(0, limit);
      return { classes: shown.map(({ number: _number, ...summary }) => summary), before: found.length > limit ? (shown.at(-1)?.number ?? null) : null };
    },
    stamps: (from, limit) => all<Stamp & pg.QueryResultRow>(sentence.stamps, from, limit),
    texts: async (session) => (await all<{ event: string }>('SELECT event FROM events WHERE session = $1 ORDER BY seq', session)).map((r) => r.event),
    summary: async (session) => (await all<ClassSummary & pg.QueryResultRow>(sentence.summary, session))[0] ?? null,
    answer: async (session, rating) =>
      (await changed('INSERT INTO answers (session, rating, n) VALUES ($1, $2, 1) ON CONFLICT (session, rating) DO UPDATE SET n = answers.n + 1', session, rating)) === 1,
    answers: (session) => all('SELECT rating, n FROM answers WHERE session = $1', session),
    remove: (ids) => changed(sentence.remove, ids),
    old: async (before, limit) => (await all<{ id: string }>(sentence.old, before, limit)).map((r) => r.id),
    backup: () => Promise.reject(new Error('this log is kept in PostgreSQL: copy it with pg_dump')),
    phones: () => all(q('SELECT token, room, pairedAt FROM phones')),
    pair: (token, room, at) => told(changed(q('INSERT INTO phones (token, room, pairedAt) VALUES ($1, $2, $3) ON CONFLICT (token, room) DO UPDATE SET pairedAt = excluded.pairedAt'), token, room, at)),
    unpair: (token) => told(changed('DELETE FROM phones WHERE token = $1', token)),
    newest: (limit) => all('SELECT id, (SELECT coalesce(max(seq), 0) FROM events WHERE session = id) AS seq FROM sessions ORDER BY number DESC LIMIT $1', limit),
    shows: async (session) => showsIn(await raw(session)),
    mark: async () => (await all<TimeMark & pg.QueryResultRow>(q('SELECT bootId, offsetMs FROM time')))[0] ?? null,
    setMark: ({ bootId, offsetMs }) => written(changed(q('INSERT INTO time VALUES (1, $1, $2) ON CONFLICT (one) DO UPDATE SET bootId = excluded.bootId, offsetMs = excluded.offsetMs'), bootId, offsetMs)),
    writable: () => written(changed('UPDATE health SET asked = asked + 1')),
    grown: (tell) => {
      heard = tell;
      void listen();
    },
    chain: {
      ...chainStore(all, changed, (text) => all('SELECT pg_notify($1, $2)', TALK, `${writer} ${text}`)),
      heard: (listen) => { talk = listen; },
    },
    stop: async () => {
      stopped = true;
      clearTimeout(again);
      await listener?.end().catch(() => {});
      await pool.end();
    },
  };
}
