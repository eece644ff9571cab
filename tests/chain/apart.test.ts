/** Holds studios apart in one PostgreSQL: each of the two walls holds by itself, the sentences without row security and row security without the sentences. */
import pg from 'pg';
import { afterAll, describe, expect, it } from 'vitest';
import { serverAt } from '../../shared/time/units.ts';
import type { Batch } from '../../server/core/store.ts';
import type { ChainStore } from '../../server/store/chain-store.ts';
import { keepRecords } from '../../server/houses/gather.ts';
import type { PostgresFiles } from '../../server/files/postgres-files.ts';
import { openOver } from '../../server/houses/over.ts';
import type { Recorded } from '../../server/review/record.ts';
import type { LogStore } from '../../server/store/log-store.ts';
import { postgresStore } from '../../server/store/postgres.ts';
import { ROLE_OF_ROWS } from '../../server/store/postgres-shape.ts';
import { migrations, ONE_STUDIO } from '../../server/store/shape.ts';
import { testPostgres } from './postgres.ts';

const engine = await testPostgres();
afterAll(() => engine?.close());

/** What is no studio's: how far the shape is, and the one time that all tell. */
const COMMON = ['migrations', 'authority'];
const CANARY = 'what only north knows';
const SESSION = 'class-of-north';
const batch = (seq: number, command: string, id = SESSION): Batch => ({
  summary: { id, room: 'garden', plan: 'short', name: CANARY, startedAt: 1_000, endedAt: 2_000, how: 'ended', headCount: 9 }, seq, command, events: [{ type: 'noted', at: serverAt(1_000), text: CANARY }],
});

/** What was made of the class. */
const recorded: Recorded = {
  stopped: false, moves: [{ movement: 'squat', name: CANARY, workMs: 1, formStops: 0, shows: 0, showPlannedMs: 0, showRealMs: 0, cutMs: 0 }], cuts: [{ kind: 'main', ms: 1, plannedMs: 1 }],
  record: {
    id: SESSION, room: 'garden', plan: 'short', name: CANARY, series: 'garden 1 18:15', startedAt: 1_000, endedAt: 2_000, day: 0, minute: 0, how: 'ended', headCount: 9, plannedMs: 1, totalMs: 1, workMs: 1,
    pausedMs: 0, pauses: 0, formStops: 0, showPlannedMs: 0, showRealMs: 0, lateMs: 0, lateStartMs: null, grewMs: null, late: false, cutMs: 0, moderateMs: 0, vigorousMs: 0, muscle: true, balance: false, kcalPerKg: 1,
  },
};
/** Fills a studio with a row in every table. */
async function fill(store: LogStore, url: string): Promise<void> {
  expect(await store.append(batch(1, 'command-of-north'))).toBe('stored');
  await store.answer(SESSION, 7);
  await store.pair('token-of-north', 'garden', 1_000);
  await store.setMark({ bootId: CANARY, offsetMs: 5 });
  expect(await store.writable()).toBe(true);
  expect(await store.chain?.put('entry-of-north', CANARY)).toBe(true);
  await store.files?.write('plans', 'plan-of-north.json', CANARY);
  const [stamp] = await store.stamps(0, 1);
  const over = openOver(url, ['north'], () => {});
  if (stamp) await over.as('north', (ask) => keepRecords(ask, 'north', [{ stamp: { number: stamp.number, id: SESSION, headCount: 9, answers: 0, ratingSum: 0 }, by: 'a test', recorded }]));
  await over.stop();
}
async function rowsOf(client: pg.Client): Promise<Record<string, pg.QueryResultRow[]>> {
  const { rows } = await client.query<{ name: string }>("SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' AND tablename <> ALL($1) ORDER BY 1", [COMMON]);
  const out: Record<string, pg.QueryResultRow[]> = {};
  for (const { name } of rows) out[name] = (await client.query(`SELECT * FROM ${name} ORDER BY 1, 2`)).rows;
  return out;
}
async function connect(url: string): Promise<pg.Client> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  return client;
}

/** Everything that can be asked of a log, with the ids of another studio's: a new question does not compile without its line. */
type Question = Exclude<keyof LogStore, 'readOnly' | 'grown' | 'stop' | 'backup' | 'chain' | 'files'>;
const asked: { readonly [K in Question]: Parameters<LogStore[K]> } = {
  append: [batch(2, 'more')], log: [SESSION], latest: ['garden'], close: [batch(1, 'x').summary], classes: [null, 100], stamps: [0, 100], since: [0, 100], far: [[SESSION]], texts: [SESSION], summary: [SESSION],
  answer: [SESSION, 1], answers: [SESSION], answersAtLeast: [SESSION, [{ rating: 7, n: 9 }]], remove: [[SESSION]], old: [serverAt(9_000), 100], phones: [], pair: ['token-of-north', 'garden', 3_000], unpair: ['token-of-north'],
  newest: [100], shows: [SESSION], mark: [], setMark: [{ bootId: 'south', offsetMs: 9 }], writable: [],
};
/** The same of what stands beside it. */
type Beside = Exclude<keyof ChainStore, 'heard'>;
const askedBeside: { readonly [K in Beside]: Parameters<ChainStore[K]> } = {
  time: [], moveTime: [0, 5_000], entries: [''], put: ['entry-of-north', 'south', CANARY], take: ['entry-of-north'], say: ['south'],
};
/** The same of files. */
type OfFiles = Exclude<keyof PostgresFiles, 'shared' | 'alone' | 'heard' | 'connect' | 'stop'>;
const askedFiles: { readonly [K in OfFiles]: Parameters<PostgresFiles[K]> } = {
  list: ['plans'], read: ['plans', 'plan-of-north.json'], place: ['plans', 'plan-of-north.json'], write: ['plans', 'plan-of-north.json', 'south'], remove: ['plans', 'plan-of-north.json'],
};

describe.skipIf(!engine)('studios apart', () => {
  it('K520 every table carries the studio and its wall, whoever owns it', async () => {
    const url = await engine?.database() ?? '';
    await (await postgresStore(url, () => {}, 'north')).stop();
    const client = await connect(url);
    const { rows } = await client.query(`SELECT c.relname AS name, c.relrowsecurity AND c.relforcerowsecurity AS walled,
      EXISTS (SELECT 1 FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attname = 'studio' AND a.attnotnull) AS carries,
      (SELECT count(*)::int FROM pg_policies p WHERE p.tablename = c.relname AND p.cmd <> 'SELECT') AS policies,
      (SELECT count(*)::int FROM pg_policies p WHERE p.tablename = c.relname AND p.cmd = 'SELECT' AND p.qual LIKE '%hallclock.houses%') AS to_read,
      (SELECT count(*)::int FROM pg_policies p WHERE p.tablename = c.relname) AS of_all
      FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace WHERE n.nspname = 'public' AND c.relkind IN ('r', 'p') AND c.relname <> ALL($1)`, [COMMON]);
    await client.end();
    expect(rows.length).toBeGreaterThan(5);
    // One policy that lets anybody write, its studio's; and for reading alone, where houses are looked over, one more (K562).
    expect(rows.filter((r) => !r.walled || !r.carries || r.policies !== 1 || r.of_all !== r.policies + r.to_read)).toEqual([]);
    expect(rows.filter((r) => r.to_read === 1).map((r) => r.name).sort()).toEqual(['answers', 'board', 'events', 'record_cuts', 'record_moves', 'records', 'sessions']);
  });

  it('K520 a log of the shape before is the studio\'s that names no id, whole, and goes on', async () => {
    const url = await engine?.database() ?? '';
    const client = await connect(url);
    await client.query('CREATE TABLE migrations (version INTEGER PRIMARY KEY)');
    for (const [i, step] of migrations.slice(0, 3).entries()) await client.query(`${step.postgres}; INSERT INTO migrations VALUES (${i + 1})`);
    await client.query(`INSERT INTO sessions (id, room, plan, name, "startedAt", "endedAt", how) VALUES ($1, 'garden', 'short', 'Short', 1, 2, 'ended')`, [SESSION]);
    await client.query("INSERT INTO events VALUES ($1, 1, 'first', 0, $2)", [SESSION, JSON.stringify(batch(1, 'first').events[0])]);
    await client.query("INSERT INTO answers VALUES ($1, 7, 3)", [SESSION]);
    await client.query("INSERT INTO phones VALUES ('t', 'garden', 1)");
    const [store, south] = [await postgresStore(url, () => {}), await postgresStore(url, () => {}, 'south')];
    expect(Object.values(await rowsOf(client)).flat().filter((row) => row.studio !== ONE_STUDIO && row.studio !== 'south')).toEqual([]);
    expect((await store.log(SESSION)).map((row) => row.command)).toEqual(['first']);
    expect(await store.answers(SESSION)).toEqual([{ rating: 7, n: 3 }]);
    expect((await store.phones()).length).toBe(1);
    expect(await store.append(batch(2, 'second'))).toBe('stored');
    expect([await south.log(SESSION), await south.phones()]).toEqual([[], []]);
    await Promise.all([store.stop(), south.stop(), client.end()]);
  });

  it('K527 bringing the log up waits for the log, longer than a command would', async () => {
    const url = await engine?.database() ?? '';
    const client = await connect(url);
    await client.query('CREATE TABLE migrations (version INTEGER PRIMARY KEY)');
    for (const [i, step] of migrations.slice(0, 3).entries()) await client.query(`${step.postgres}; INSERT INTO migrations VALUES (${i + 1})`);
    await client.query('BEGIN; LOCK TABLE events');
    const opened = postgresStore(url, () => {}).then((store) => store, (error: unknown) => String(error));
    await expect.poll(async () => (await client.query('SELECT 1 FROM pg_locks WHERE NOT granted')).rows.length, { timeout: 30_000 }).toBeGreaterThan(0);
    // Longer than the patience of a command (1.5 s).
    await client.query('SELECT pg_sleep(2)');
    await client.query('COMMIT');
    const store = await opened;
    expect(store).toBeTypeOf('object');
    if (typeof store === 'object') await store.stop();
    await client.end();
  });

  it('K521 the sentences alone keep studios apart: with row security taken out, no question of one reaches a row of another', async () => {
    const url = await engine?.database() ?? '';
    const [north, south] = [await postgresStore(url, () => {}, 'north'), await postgresStore(url, () => {}, 'south')];
    const client = await connect(url);
    for (const table of Object.keys(await rowsOf(client))) await client.query(`ALTER TABLE ${table} DISABLE ROW LEVEL SECURITY`);
    await fill(north, url);
    // A class without events, so that no reference holds what a sentence would let go.
    await client.query("INSERT INTO sessions (studio, id, room, plan, name, \"startedAt\", \"endedAt\", how) VALUES ('north', 'bare', 'garden', 'short', $1, 1, 2, 'ended')", [CANARY]);
    const ofNorth = async () => Object.fromEntries(Object.entries(await rowsOf(client)).map(([table, rows]) => [table, rows.filter((r) => r.studio === 'north')]));
    const before = await ofNorth();
    const heard: (string | null)[] = [];
    north.grown?.(() => {});
    north.chain?.heard((text) => { heard.push(text); });
    for (const [what, args] of [...Object.entries(asked), ...Object.entries(askedBeside), ...Object.entries(askedFiles)]) {
      const ask = (what in askedBeside ? south.chain?.[what as Beside] : what in askedFiles ? south.files?.[what as OfFiles] : south[what as Question]) as (...given: readonly unknown[]) => Promise<unknown>;
      const answer = await ask(...args).catch((error: unknown) => String(error));
      expect(JSON.stringify(answer) ?? '', what).not.toContain(CANARY);
      expect(await ofNorth(), what).toEqual(before);
    }
    expect(await south.remove(['bare'])).toBe(0);
    expect(await ofNorth()).toEqual(before);
    // What is said is told in order: once north has heard another of its own servers, south would have been heard before it.
    const alsoNorth = await postgresStore(url, () => {}, 'north');
    await expect.poll(async () => { await alsoNorth.chain?.say('of north'); return heard.includes('of north'); }, { timeout: 30_000, interval: 200 }).toBe(true);
    expect(heard).not.toContain('south');
    // The same ids are free in another studio: none learns that they are taken.
    expect(await south.append(batch(1, 'command-of-north'))).toBe('stored');
    await Promise.all([north.stop(), alsoNorth.stop(), south.stop(), client.end()]);
  }, 60_000);

  it.each([['a superuser', false], ['an ordinary owner', true]] as const)('K522 row security alone keeps studios apart, for %s: sentences that name no studio reach only their own', async (_who, ordinary) => {
    const base = await engine?.database() ?? '';
    const admin = await connect(base);
    const url = new URL(base);
    if (ordinary) {
      url.username = `owner${url.pathname.slice(1)}`;
      await admin.query(`CREATE ROLE ${url.username} LOGIN NOSUPERUSER NOBYPASSRLS`);
      await admin.query(`ALTER DATABASE ${url.pathname.slice(1)} OWNER TO ${url.username}`);
    }
    const north = await postgresStore(url.href, () => {}, 'north');
    await fill(north, url.href);
    const client = await connect(url.href);
    if (!ordinary) await client.query(`SET ROLE ${ROLE_OF_ROWS}`);
    const tables = Object.keys(await rowsOf(client));
    const counts = async () => Object.fromEntries(Object.entries(await rowsOf(client)).map(([t, r]) => [t, r.length]));
    // Nobody's: a connection that has not said whose it is. South's: one that is another's.
    for (const studio of [null, 'south', 'north']) {
      if (studio !== null) await client.query('SELECT set_config($1, $2, false)', ['hallclock.studio', studio]);
      expect(Object.values(await counts()).every((n) => n === (studio === 'north' ? 1 : 0)), String(studio)).toBe(true);
      if (studio === 'north') continue;
      for (const table of tables) {
        expect((await client.query(`UPDATE ${table} SET studio = studio`)).rowCount, table).toBe(0);
        expect((await client.query(`DELETE FROM ${table}`)).rowCount, table).toBe(0);
      }
      await expect(client.query("INSERT INTO phones VALUES ('t', 'garden', 1, 'north')")).rejects.toThrow(/row-level security/);
    }
    await expect(client.query("UPDATE phones SET studio = 'south'")).rejects.toThrow(/row-level security/);
    // The keeper's own connections are held as well: with no policy left nothing can be seen.
    expect((await north.classes(null, 9)).classes.length).toBe(1);
    await admin.query('DROP POLICY of_studio ON sessions');
    expect((await north.classes(null, 9)).classes).toEqual([]);
    await Promise.all([north.stop(), client.end(), admin.end()]);
  });
});
