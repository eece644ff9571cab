/**
 * Owns bringing a PostgreSQL up to the log's shape, and what is wrong with one that cannot
 * be reached. Leaves alone the shape itself (shape.ts) and what is asked of it (postgres.ts).
 */
import pg from 'pg';
import { CannotOpen } from './database.ts';
import { migrations } from './shape.ts';

/** Two servers that start at once bring the shape up one after the other (any number that nobody else uses). */
const SHAPE_LOCK = 7_310_551;
/** A user whom row security does not hold (PostgreSQL 15, 5.8: superusers) reads and writes rows as this role, which it holds. */
export const ROLE_OF_ROWS = 'hallclock_rows';

const codeOf = (error: unknown): string => (error instanceof Error && 'code' in error ? String(error.code) : '');

/**
 * Brings the log up over connections of its own, which may take as long as a large log takes.
 * @param patienceMs for a connection @returns whether this user passes through row security by itself, and has to read and write as the role instead
 */
export async function bringUp(url: string, patienceMs: number): Promise<boolean> {
  const clients = [0, 1].map(() => new pg.Client({ connectionString: url, connectionTimeoutMillis: patienceMs })) as [pg.Client, pg.Client];
  for (const client of clients) client.on('error', () => {});
  try {
    for (const client of clients) await client.connect();
    if (await sharedByTransactions(...clients)) {
      throw new CannotOpen('DATABASE_URL leads through a pooler that gives each transaction another connection: whose rows a connection may read, and what it listens to, would be lost. Give the address of PostgreSQL itself, or set the pooler to sessions (PgBouncer: pool_mode = session).');
    }
    return await migrate(clients[0]);
  } finally {
    await Promise.all(clients.map((client) => client.end().catch(() => {})));
  }
}

/** Whether what one has given back after a transaction is the other's next: then it hangs on another process of the engine. */
async function sharedByTransactions(one: pg.Client, other: pg.Client): Promise<boolean> {
  const processOf = async () => (await one.query<{ pid: number }>('SELECT pg_backend_pid() AS pid')).rows[0]?.pid;
  const before = await processOf();
  await other.query('BEGIN');
  await other.query('SELECT 1');
  const now = await processOf();
  await other.query('ROLLBACK');
  return before !== now;
}

async function migrate(client: pg.ClientBase): Promise<boolean> {
  await client.query('SELECT pg_advisory_lock($1)', [SHAPE_LOCK]);
  try {
    await client.query('CREATE TABLE IF NOT EXISTS migrations (version INTEGER PRIMARY KEY)');
    const { rows: [known] } = await client.query<{ v: number }>('SELECT coalesce(max(version), 0) AS v FROM migrations');
    const version = known?.v ?? 0;
    if (version > migrations.length) throw new CannotOpen(`The log was written by a newer Hallclock (shape ${version}, this one knows ${migrations.length}). Start that one.`);
    for (const [i, step] of migrations.slice(version).entries()) {
      await client.query(`BEGIN; ${step.postgres}; INSERT INTO migrations VALUES (${version + i + 1}); COMMIT`);
    }
    const { rows: [me] } = await client.query<{ passes: boolean }>('SELECT rolsuper OR rolbypassrls AS passes FROM pg_roles WHERE rolname = current_user');
    if (me?.passes !== true) return false;
    await lesserRole(client);
    return true;
  } finally {
    await client.query('SELECT pg_advisory_unlock($1)', [SHAPE_LOCK]).catch(() => {});
  }
}

async function lesserRole(client: pg.ClientBase): Promise<void> {
  const has = async () => (await client.query('SELECT 1 FROM pg_roles WHERE rolname = $1', [ROLE_OF_ROWS])).rows.length > 0;
  try {
    // Roles are the whole engine's: another database's server may have made it meanwhile.
    if (!(await has())) await client.query(`CREATE ROLE ${ROLE_OF_ROWS} NOLOGIN`).catch(async (error: unknown) => { if (!(await has())) throw error; });
    await client.query(`GRANT ${ROLE_OF_ROWS} TO CURRENT_USER`);
    await client.query(`GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA public TO ${ROLE_OF_ROWS}`);
  } catch (error) {
    throw new CannotOpen(`The user of DATABASE_URL passes through PostgreSQL's row security, which keeps studios apart, and may not make the role ${ROLE_OF_ROWS} that does not (${codeOf(error)}). Give DATABASE_URL an ordinary user that owns the database: CREATE ROLE ... NOSUPERUSER NOBYPASSRLS.`);
  }
}

/** What is wrong with DATABASE_URL, and what to do; its password is not repeated. */
export function cannotReach(error: unknown): string {
  const code = codeOf(error);
  const why = code === 'ECONNREFUSED' ? 'nobody answers there: is PostgreSQL started, and are host and port right?'
    : code === 'ENOTFOUND' || code === 'EAI_AGAIN' ? 'its host is not known.'
      : code.startsWith('28') ? 'PostgreSQL does not accept its user or password.'
        : code === '3D000' ? 'there is no database of this name. Make it with createdb.'
          : code === '42501' ? 'its user may not make tables there.' : `PostgreSQL says: ${error instanceof Error ? error.message : String(error)}`;
  return `The log of DATABASE_URL cannot be opened: ${why} Leave DATABASE_URL out to keep the log in the data folder.`;
}
