/**
 * Owns the keeper in PostgreSQL: the same promise as the one on disk, for servers that
 * share one log. A class's next number is the arbiter: of two servers that decide at once
 * one is stored, the other is told that it is taken. Studios that share a database have a
 * keeper each: every sentence names the studio, and every connection is its studio's
 * (shape.ts: the second wall). Leaves alone who decides again (core).
 */
import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { type Ask, postgresFiles } from '../files/postgres-files.ts';
import type { ClassSummary } from '../../shared/wire/http.ts';
import type { Appended, Batch } from '../core/store.ts';
import type { TimeMark } from '../core/server-time.ts';
import { chainStore } from './chain-store.ts';
import { CannotOpen } from './database.ts';
import type { Far, Stamp } from './keeping.ts';
import { type LogStore, parsed, rowsOf } from './log-store.ts';
import { showsIn } from './past-shows.ts';
import { type Sentence, sentence } from './postgres-sentences.ts';
import { bringUp, cannotReach, ROLE_OF_ROWS } from './postgres-shape.ts';
import { ONE_STUDIO, STUDIO_OF_CONNECTION } from './shape.ts';

/** A command is refused within this when the engine does not answer. */
const PATIENCE_MS = 1_500;
/** Connections that one server holds open at most. */
const CONNECTIONS = 8;
/** Between two tries to listen again; until then rooms ask by themselves. */
const LISTEN_AGAIN_MS = 1_000;
const CHANNEL = 'hallclock_grown';
const TALK = 'hallclock_said';

/** Numbers of 64 bits and sums of them: none of ours passes 2^53. */
export const types: pg.CustomTypesConfig = {
  getTypeParser: ((oid: number, format?: 'text' | 'binary') =>
    oid === pg.types.builtins.INT8 || oid === pg.types.builtins.NUMERIC ? Number : pg.types.getTypeParser(oid, format)) as typeof pg.types.getTypeParser,
};

const codeOf = (error: unknown): string => (error instanceof Error && 'code' in error ? String(error.code) : '');
/** A number or a command id is taken: unique_violation (PostgreSQL 15, appendix A); an event without its class cannot be, so its class was deleted. */
const TAKEN = new Set(['23505', '23503']);

const columnsOf = (s: ClassSummary) => [s.id, s.room, s.plan, s.name, s.startedAt, s.endedAt, s.how, s.headCount];

/** Opens the log of one studio in a database. Rejects with a sentence that says what to do. @param connections held open at most */
export async function postgresStore(url: string, warn: (sentence: string) => void, studio = ONE_STUDIO, connections = CONNECTIONS): Promise<LogStore> {
  let role = 'none';
  const pool = new pg.Pool({
    connectionString: url, max: connections, connectionTimeoutMillis: PATIENCE_MS, query_timeout: PATIENCE_MS, types,
    // Before anything else is asked of it, a connection is its studio's. Nothing is asked for at its start, which poolers refuse.
    onConnect: async (client) => {
      await client.query('SELECT set_config($1, $2, false), set_config($3, $4, false), set_config($5, $6, false)', [STUDIO_OF_CONNECTION, studio, 'role', role, 'statement_timeout', String(PATIENCE_MS)]);
    },
  });
  pool.on('error', (error) => warn(`a connection to the log was lost: ${error.message}`));
  // One that is in use when the engine goes says so by itself; whoever uses it hears of it too.
  pool.on('connect', (client) => { client.on('error', () => {}); });
  try {
    // Rows are read by a lesser role where the user is more.
    if (await bringUp(url, PATIENCE_MS)) role = ROLE_OF_ROWS;
  } catch (error) {
    await pool.end();
    throw error instanceof CannotOpen ? error : new CannotOpen(cannotReach(error));
  }
  const all = async <R extends pg.QueryResultRow>(what: Sentence, ...values: readonly unknown[]): Promise<R[]> => (await pool.query<R>(sentence[what], [studio, ...values])).rows;
  const changed = async (what: Sentence, ...values: readonly unknown[]): Promise<number> => (await pool.query(sentence[what], [studio, ...values])).rowCount ?? 0;
  const written = (asked: Promise<number>): Promise<boolean> => asked.then((n) => n > 0).catch((error: unknown) => {
    warn(`the log could not be written: ${String(error)}`);
    return false;
  });
  type Raw = { readonly seq: number; readonly command: string; readonly event: string };
  const read = (rows: readonly Raw[]) => rows.map((row) => ({ ...row, event: parsed(row.event) }));
  const raw = async (session: string, after = 0) => read(await all<Raw>('rows', session, after));
  const startsIn = (room: string): string => `${studio} ${room}`;
  /** Rooms by class whose append was not answered: it may act yet, as long as its locks are held. */
  const unsure = new Map<string, string>();
  /** Waits until such an append has acted or never will. Rejects where that takes too long. */
  async function ended(session: string, room: string): Promise<void> {
    await pool.query('SELECT pg_advisory_xact_lock(hashtext($1))', [startsIn(room)]);
    await all('behind', session);
    unsure.delete(session);
  }

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
      if (seq === 1) await client.query('SELECT pg_advisory_xact_lock(hashtext($1))', [startsIn(summary.room)]);
      const { rows: [known] } = await client.query<{ newest: string | null; seq: number }>(sentence.known, [studio, summary.room, summary.id]);
      if (known?.seq !== seq - 1 || (after !== undefined && known.newest !== after)) {
        await client.query('ROLLBACK');
        return 'taken';
      }
      await client.query(sentence.upsert, [studio, ...columnsOf(summary)]);
      await client.query(sentence.insert, [studio, summary.id, seq, command, events.map((event) => JSON.stringify(event))]);
      await client.query('SELECT pg_notify($1, $2)', [grownOf, `${writer} ${summary.room}`]);
      committing = true;
      await client.query('COMMIT');
      return 'stored';
    } catch (error) {
      broken = !TAKEN.has(codeOf(error));
      if (!broken) await client.query('ROLLBACK').catch(() => { broken = true; });
      if (TAKEN.has(codeOf(error))) return 'taken';
      warn(committing ? `it cannot be told whether a command was written: ${String(error)}` : `a command could not be written: ${String(error)}`);
      if (committing) unsure.set(summary.id, summary.room);
      return committing ? 'unknown' : 'failed';
    } finally {
      // A connection that failed half way is not used again.
      client.release(broken);
    }
  }

  /** What this server has written itself it knows. */
  const writer = randomUUID();
  /** Each studio has channels of its own; an id is small letters and digits (settings.ts). */
  const [grownOf, saidOf] = [CHANNEL, TALK].map((name) => (studio === ONE_STUDIO ? name : `${name}_${studio}`)) as [string, string];
  /** Phones are the same for all servers. */
  const told = (asked: Promise<number>) => written(asked.then(async (n) => {
    await pool.query('SELECT pg_notify($1, $2)', [grownOf, `${writer} `]);
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
      if (channel === saidOf) talk?.(rest);
      else heard?.(rest === '' ? null : rest);
    });
    try {
      await client.connect();
      await client.query(`LISTEN ${grownOf}; LISTEN ${saidOf}`);
      // What was said while nobody listened is asked for.
      heard?.(null);
      talk?.(null);
    } catch {
      lost();
    }
  }

  const rowsOver = (over: Pick<pg.Pool, 'query'>): Ask => async <R extends object>(sql: string, ...values: readonly unknown[]) => (await over.query<R & pg.QueryResultRow>(sql, [studio, ...values])).rows;
  async function transaction<T>(work: (ask: Ask) => Promise<T>): Promise<T> {
    const client = await pool.connect();
    let broken = true;
    try {
      await client.query('BEGIN');
      const done = await work(rowsOver(client));
      await client.query('COMMIT');
      broken = false;
      return done;
    } catch (error) {
      await client.query('ROLLBACK').then(() => { broken = false; }, () => {});
      throw error;
    } finally {
      // A connection that failed half way is not used again.
      client.release(broken);
    }
  }

  const files = postgresFiles({ ask: rowsOver(pool), transaction });

  return {
    readOnly: null, files,
    append,
    log: async (session, after) => {
      const room = unsure.get(session);
      if (room !== undefined) await ended(session, room);
      return rowsOf(await raw(session, after));
    },
    latest: async (room, known = null) => rowsOf(read(await all<Raw>('latest', room, known?.session ?? null, known?.seq ?? 0))),
    close: ({ id, endedAt, how, headCount }) => written(changed('close', id, endedAt, how, headCount)),
    classes: async (before, limit) => {
      const found = await all<ClassSummary & { number: number }>('page', before ?? Number.MAX_SAFE_INTEGER, limit + 1);
      const shown = found.slice(0, limit);
      return { classes: shown.map(({ number: _number, ...summary }) => summary), before: found.length > limit ? (shown.at(-1)?.number ?? null) : null };
    },
    stamps: (from, limit) => all<Stamp & pg.QueryResultRow>('stamps', from, limit),
    since: (from, limit) => all<Far & pg.QueryResultRow>('since', from, limit),
    far: (ids) => all<Far & pg.QueryResultRow>('far', ids),
    texts: async (session) => (await all<{ event: string }>('rows', session, 0)).map((r) => r.event),
    summary: async (session) => (await all<ClassSummary & pg.QueryResultRow>('summary', session))[0] ?? null,
    answer: async (session, rating) => (await changed('answer', session, rating)) === 1,
    answers: (session) => all('answers', session),
    answersAtLeast: async (session, counts) => (await changed('answersAtLeast', session, counts.map((c) => c.rating), counts.map((c) => c.n))) === counts.length,
    remove: (ids) => changed('remove', ids),
    old: async (before, limit) => (await all<{ id: string }>('old', before, limit)).map((r) => r.id),
    backup: () => Promise.reject(new Error('this log is kept in PostgreSQL: copy it with pg_dump')),
    phones: () => all('phones'),
    pair: (token, room, at) => told(changed('pair', token, room, at)),
    unpair: (token) => told(changed('unpair', token)),
    newest: (limit) => all('newest', limit),
    shows: async (session) => showsIn(await raw(session)),
    mark: async () => (await all<TimeMark & pg.QueryResultRow>('mark'))[0] ?? null,
    setMark: ({ bootId, offsetMs }) => written(changed('setMark', bootId, offsetMs)),
    writable: () => written(changed('healthy')),
    grown: (tell) => {
      heard = tell;
      void listen();
    },
    chain: {
      ...chainStore(
        rowsOver(pool),
        async <R extends object>(sql: string, ...values: readonly unknown[]) => (await pool.query<R & pg.QueryResultRow>(sql, [...values])).rows,
        (text) => pool.query('SELECT pg_notify($1, $2)', [saidOf, `${writer} ${text}`]),
      ),
      heard: (listen) => { talk = listen; },
    },
    stop: async () => {
      stopped = true;
      clearTimeout(again);
      await listener?.end().catch(() => {});
      await files.stop();
      await pool.end();
    },
  };
}
