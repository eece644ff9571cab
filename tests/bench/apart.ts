/**
 * Owns the bench of keeping studios apart in a real PostgreSQL: what row security costs an append and a read, beside the
 * same sentences in a database where it is taken out; and how long a log of before waits for the step that keeps them apart.
 */
import pg from 'pg';
import { serverAt } from '../../shared/time/units.ts';
import { postgresStore } from '../../server/store/postgres.ts';
import { bringUp } from '../../server/store/postgres-shape.ts';
import { migrations } from '../../server/store/shape.ts';
import { testPostgres } from '../chain/postgres.ts';
import { median, percentile, table } from './table.ts';

const APPENDS = 3_000;
const CLASSES = 20_000;
const EVENTS = 60;
/** The shape before studios were kept apart. */
const BEFORE = 3;

async function cost(walled: string, bare: string): Promise<void> {
  // Both know their studio; from the second the wall is taken after it is made.
  const stores = [await postgresStore(walled, () => {}, 'north'), await postgresStore(bare, () => {}, 'north')];
  const admin = new pg.Client({ connectionString: bare });
  await admin.connect();
  for (const { name } of (await admin.query<{ name: string }>("SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public'")).rows) await admin.query(`ALTER TABLE ${name} DISABLE ROW LEVEL SECURITY`);
  await admin.end();
  const took: [number[], number[], number[], number[]] = [[], [], [], []];
  for (let n = 0; n < APPENDS; n += 1) {
    // Taken in turns, each first as often as the other.
    for (const which of n % 2 === 0 ? [0, 1] : [1, 0]) {
      const store = stores[which];
      const id = `class-${Math.floor(n / EVENTS)}`;
      const from = performance.now();
      await store?.append({ summary: { id, room: 'garden', plan: 'short', name: 'Short', startedAt: 1, endedAt: null, how: 'running', headCount: null }, seq: 1 + (n % EVENTS), command: `${n}`, events: [{ type: 'noted', at: serverAt(n), text: 'a note of the usual length' }] });
      const between = performance.now();
      await store?.log(id);
      took[which as 0 | 1].push(between - from);
      took[(2 + which) as 2 | 3].push(performance.now() - between);
    }
  }
  for (const store of stores) await store.stop();
  table(`${APPENDS} appends and reads of the class so far, by turns, PostgreSQL without waiting for the disk, ms`, [
    ['', 'median', 'p95'],
    ...(['an append, with row security', 'an append, without', 'a read, with', 'a read, without'] as const).map((what, i) => [what, median(took[i] ?? []), percentile(took[i] ?? [], 0.95)]),
  ]);
}

async function step(url: string): Promise<void> {
  const admin = new pg.Client({ connectionString: url });
  await admin.connect();
  await admin.query('CREATE TABLE migrations (version INTEGER PRIMARY KEY)');
  for (const [i, { postgres }] of migrations.slice(0, BEFORE).entries()) await admin.query(`${postgres}; INSERT INTO migrations VALUES (${i + 1})`);
  await admin.query(`INSERT INTO sessions (id, room, plan, name, "startedAt", "endedAt", how) SELECT 'class-' || n, 'garden', 'short', 'Short', n, n, 'ended' FROM generate_series(1, ${CLASSES}) n`);
  await admin.query(`INSERT INTO events SELECT 'class-' || n, k, n || '-' || k, 0, repeat('x', 100) FROM generate_series(1, ${CLASSES}) n, generate_series(1, ${EVENTS}) k`);
  await admin.end();
  const from = performance.now();
  await bringUp(url, 5_000);
  table('The step that keeps studios apart, on a log of before', [
    ['classes', 'events', 'seconds'],
    [String(CLASSES), String(CLASSES * EVENTS), (performance.now() - from) / 1_000],
  ]);
}

export async function run(): Promise<void> {
  const engine = await testPostgres();
  if (!engine) return;
  await cost(await engine.database(), await engine.database());
  await step(await engine.database());
  await engine.close();
}
