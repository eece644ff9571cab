/**
 * Owns looking over the houses of a chain in PostgreSQL: connections of their own that read rows of these houses in one
 * snapshot and can write nothing, and one more through which what was made of a house's classes is kept as that house.
 * Leaves alone what is asked.
 */
import pg from 'pg';
import { types } from '../store/postgres.ts';
import { q } from '../store/postgres-sentences.ts';
import { ROLE_OF_ROWS } from '../store/postgres-shape.ts';
import { HOUSES_OF_CONNECTION, STUDIO_OF_CONNECTION } from '../store/shape.ts';

/** A look over ten years of many houses may take so long; a page waits. */
const PATIENCE_MS = 30_000;
const CONNECT_MS = 5_000;
const READERS = 3;

/** Asks for rows; names with capitals are quoted by it. */
export type Ask = <R extends object>(sql: string, ...values: readonly unknown[]) => Promise<R[]>;
export interface Over {
  /** All that one look asks, in one snapshot. */
  readonly read: <T>(look: (ask: Ask) => Promise<T>) => Promise<T>;
  /** Writes as one house, all or nothing. */
  readonly as: <T>(house: string, work: (ask: Ask) => Promise<T>) => Promise<T>;
  readonly stop: () => Promise<void>;
}

const asking = (client: pg.ClientBase): Ask => async <R extends object>(sql: string, ...values: readonly unknown[]) => (await client.query<R & pg.QueryResultRow>(q(sql), [...values])).rows;

/** @param url of a database that the studio's own keeper has brought up (store/postgres.ts) */
export function openOver(url: string, houses: readonly string[], warn: (sentence: string) => void): Over {
  /** @param says settings of each connection, before anything else is asked of it */
  function pool(max: number, says: Readonly<Record<string, string>>): pg.Pool {
    const made = new pg.Pool({
      connectionString: url, max, connectionTimeoutMillis: CONNECT_MS, query_timeout: PATIENCE_MS, types,
      onConnect: async (client) => {
        const { rows: [me] } = await client.query<{ passes: boolean }>('SELECT rolsuper OR rolbypassrls AS passes FROM pg_roles WHERE rolname = current_user');
        for (const [name, value] of Object.entries({ ...says, statement_timeout: String(PATIENCE_MS), ...(me?.passes === true ? { role: ROLE_OF_ROWS } : {}) })) {
          await client.query('SELECT set_config($1, $2, false)', [name, value]);
        }
      },
    });
    made.on('error', (error) => warn(`a connection that looks over the houses was lost: ${error.message}`));
    made.on('connect', (client) => { client.on('error', () => {}); });
    return made;
  }
  const readers = pool(READERS, { [HOUSES_OF_CONNECTION]: houses.join(','), default_transaction_read_only: 'on' });
  const writer = pool(1, {});

  async function within<T>(from: pg.Pool, begin: string, work: (client: pg.PoolClient) => Promise<T>): Promise<T> {
    const client = await from.connect();
    let broken = false;
    try {
      await client.query(begin);
      const done = await work(client);
      await client.query('COMMIT');
      return done;
    } catch (error) {
      await client.query('ROLLBACK').catch(() => { broken = true; });
      throw error;
    } finally {
      client.release(broken);
    }
  }
  return {
    read: (look) => within(readers, 'BEGIN TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY', (client) => look(asking(client))),
    as: (house, work) => within(writer, 'BEGIN', async (client) => {
      // Until the end of this transaction only.
      await client.query('SELECT set_config($1, $2, true)', [STUDIO_OF_CONNECTION, house]);
      return work(asking(client));
    }),
    stop: async () => { await Promise.all([readers.end(), writer.end()]); },
  };
}
