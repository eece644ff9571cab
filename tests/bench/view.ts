/**
 * Owns what looking over a chain costs at scale: 20 houses of 2,000 classes each in one PostgreSQL, asked over HTTP of the
 * built server, beside a server that looks over two of the same houses. The classes of one house are made and stood in the
 * others too, shifted in their numbers only: what is summed is the same amount as of twenty different ones.
 */
import pg from 'pg';
import { yearsOf } from '../chain/houses-years.ts';
import { testPostgres } from '../chain/postgres.ts';
import { earlierStart, insideCookie } from '../inside.ts';
import { newFolder } from '../server/serve.ts';
import { hallclock, pause, type Running } from './server.ts';
import { percentile, table } from './table.ts';

const HOUSES = Array.from({ length: 20 }, (_, k) => `h${k + 1}`);
const [CLASSES, LOOKS] = [2_000, 20];
const UNTIL = '2026-11-25';

const questions = [
  ['all rooms now', '/api/all/live'],
  ['the review, 12 weeks', '/api/all/review?from=2026-09-DAY'],
  ['the review, all years', '/api/all/review?from=2010-01-DAY'],
  ['the review, all years of one house', '/api/all/review?from=2010-01-DAY&house=h2'],
] as const;

/** Every row of the first house in the others, by the engine itself. */
async function copied(url: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  for (const name of ['sessions', 'events', 'answers', 'board']) {
    const { rows } = await client.query<{ column_name: string }>('SELECT column_name FROM information_schema.columns WHERE table_name = $1 AND table_schema = current_schema()', [name]);
    const columns = rows.map((r) => r.column_name).filter((c) => c !== 'studio' && !(name === 'sessions' && c === 'number')).map((c) => `"${c}"`).join(', ');
    for (const house of HOUSES.slice(1)) await client.query(`INSERT INTO ${name} (studio, ${columns}) SELECT $1, ${columns} FROM ${name} WHERE studio = $2 ORDER BY 2`, [house, HOUSES[0]]);
  }
  await client.query('ANALYZE');
  await client.end();
}

const asked = (server: Running, path: string): Promise<Response> => fetch(`${server.url}${path}`, { headers: { cookie: insideCookie } });
async function overHouses(url: string, houses: readonly string[]): Promise<Running> {
  const data = newFolder();
  earlierStart(data);
  return hallclock(['garden'], 0, data, [], { DATABASE_URL: url, HALLCLOCK_HOUSES: houses.map((h) => `${h}=House ${h}`).join(','), HALLCLOCK_KEEP_DAYS: '0' });
}
async function read(server: Running): Promise<number> {
  const from = performance.now();
  while (((await (await asked(server, '/api/all/review')).json()) as { toRead?: number }).toRead !== 0) {
    if (performance.now() - from > 1_200_000) throw new Error('the classes were not read');
    await pause(1_000);
  }
  return performance.now() - from;
}

export async function run(): Promise<void> {
  const engine = await testPostgres();
  if (!engine) return;
  const servers: Running[] = [];
  try {
    const url = await engine.database();
    await yearsOf(url, [{ id: HOUSES[0] ?? '', timeZone: 'UTC', rooms: ['garden', 'street'], classes: CLASSES, seed: 3 }], UNTIL);
    await copied(url);
    const all = await overHouses(url, HOUSES);
    servers.push(all);
    const readMs = await read(all);
    const two = await overHouses(url, HOUSES.slice(0, 2));
    servers.push(two);
    await read(two);
    const rows: (string | number)[][] = [];
    for (const [name, path] of questions) {
      const took = { all: [] as number[], two: [] as number[] };
      let bytes = 0;
      for (let k = 0; k < LOOKS; k += 1) {
        for (const [of, server] of [['all', all], ['two', two]] as const) {
          const from = performance.now();
          const body = await (await asked(server, path.replace('DAY', String(k + 1).padStart(2, '0')))).arrayBuffer();
          took[of].push(performance.now() - from);
          if (of === 'all') bytes = body.byteLength;
        }
      }
      rows.push([name, percentile(took.all, 0.5), percentile(took.all, 0.95), percentile(took.two, 0.5), percentile(took.two, 0.95), `${Math.round(bytes / 1_000)} kB`]);
    }
    table(`Over ${HOUSES.length} houses of ${CLASSES} classes each, beside two of them, ms; ${LOOKS} looks by turns, each at another range`, [['', 'median', 'p95', 'of two', 'p95', 'answer'], ...rows]);
    process.stdout.write(`all classes read once in ${(readMs / 1_000).toFixed(0)} s\n`);
  } finally {
    for (const server of servers) await server.close();
    await engine.close();
  }
}
