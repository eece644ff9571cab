/** Holds a studio's own server and the chain's against each other: real servers, a real PostgreSQL, keys from the desk, a line that is cut. */
import { createServer, type Server } from 'node:http';
import { gzipSync } from 'node:zlib';
import pg from 'pg';
import request from 'supertest';
import { afterAll, afterEach, expect, it } from 'vitest';
import { HOUSE_MESSAGE_MOST_BYTES, HOUSE_RATE } from '../../shared/limits.ts';
import { chainStandsSchema, HOUSE_SPEAKS, housesSchema, type SendLog } from '../../shared/wire/house.ts';
import { serverAt } from '../../shared/time/units.ts';
import { readSettings } from '../../server/settings.ts';
import { sqliteStore } from '../../server/store/sqlite.ts';
import { postgresStore } from '../../server/store/postgres.ts';
import type { LogStore } from '../../server/store/log-store.ts';
import { askOver } from '../../server/upward/ask.ts';
import { freePort, startProcess } from '../server/process.ts';
import { noteRoutes } from '../server/routes.ts';
import { device, inside, live, newFolder, pair, serve } from '../server/serve.ts';
import { testPostgres } from './postgres.ts';
import { teach } from './teach.ts';

const engine = await testPostgres();
const closing: (() => Promise<unknown> | unknown)[] = [];
afterEach(async () => { for (const close of closing.splice(0).reverse()) await close(); });
afterAll(() => engine?.close());

const HOUSES = 'north=North Yard,south=South Yard';
const hello = { speaks: HOUSE_SPEAKS, version: 'test' } as const;
const patient = { timeout: 60_000, interval: 200 };
async function chainServer(database: string, port = 0, data = newFolder()) {
  const made = await serve(data, { DATABASE_URL: database, HALLCLOCK_HOUSES: HOUSES, HALLCLOCK_PORT: String(port) });
  closing.push(made.close);
  return made;
}
async function stop(made: { readonly close: () => Promise<void> }): Promise<void> {
  closing.splice(closing.indexOf(made.close), 1);
  await made.close();
}
const keyFor = async (url: string, house: string): Promise<string> => (await inside(url).post(`/api/desk/houses/${house}/key`).expect(200)).body.key as string;
const housesAt = async (url: string) => housesSchema.parse((await inside(url).get('/api/desk/houses').expect(200)).body).houses;
const standsAt = async (url: string) => chainStandsSchema.parse((await inside(url).get('/api/chain').expect(200)).body).upward;
async function logsOf(store: LogStore) {
  const all = await store.since(0, 100_000);
  return Promise.all(all.map(async ({ number: _n, ...c }) => ({ ...c, summary: await store.summary(c.id), rows: await store.log(c.id), answers: await store.answers(c.id) })));
}
async function houseStore(database: string, house: string): Promise<LogStore> {
  const store = await postgresStore(database, () => {}, house, 2);
  closing.push(store.stop);
  return store;
}

it.skipIf(!engine)('K543 a week of classes without the line, one of them running when it comes back: everything arrives, in order, once; both desks say so', async () => {
  const database = await engine?.database() ?? '';
  const port = await freePort();
  const folder = newFolder();
  const first = await chainServer(database, port);
  const key = await keyFor(first.url, 'north');
  await stop(first);
  // A week on the studio's own disk, while there is no line.
  const before = await sqliteStore(folder, () => {}, () => {});
  const weekAgo = Date.now() - 7 * 86_400_000;
  for (let i = 0; i < 14; i += 1) {
    const held = await teach(before, `week-${i}`, 'garden', serverAt(weekAgo + i * 12 * 3_600_000));
    await held.note(6);
    await held.end();
    await before.answer(held.id, i % 11);
  }
  await before.stop();
  const studio = await serve(folder, { HALLCLOCK_CHAIN: `http://127.0.0.1:${port}`, HALLCLOCK_CHAIN_KEY: key });
  closing.push(studio.close);
  await expect.poll(async () => (await standsAt(studio.url))?.troubles.join(), patient).toContain('does not answer');
  expect((await standsAt(studio.url))?.waiting).toBe(14);
  const screen = device(studio.url, 'screen');
  const phone = device(studio.url, 'phone', await pair(studio.url, screen));
  closing.push(screen.close, phone.close);
  await phone.until(live, 'the phone');
  expect(await phone.room().send({ type: 'start', plan: 'forty-twenty', freeAt: null })).toEqual({ done: true });
  const chain = await chainServer(database, port);
  expect(await phone.room().send({ type: 'note', text: 'while the line comes back' })).toEqual({ done: true });
  await expect.poll(async () => { const s = await standsAt(studio.url); return [s?.waiting, s?.troubles]; }, patient).toEqual([0, []]);
  expect(await phone.room().send({ type: 'end' })).toEqual({ done: true });
  const there = await houseStore(database, 'north');
  await expect.poll(async () => (await there.since(0, 100)).at(-1)?.endedAt ?? null, patient).not.toBeNull();
  expect(await logsOf(there)).toEqual(await logsOf(studio.studio.store));
  expect((await there.since(0, 100)).length).toBe(15);
  const [north, south] = await housesAt(chain.url);
  expect([north?.troubles, north?.heardAt !== null, north?.upTo !== null, south?.heardAt]).toEqual([[], true, true, null]);
  expect((await standsAt(studio.url))?.upTo).not.toBeNull();
  expect((await there.chain?.entries('about'))?.get('about')).toContain('Garden room');
});

it.skipIf(!engine)('K544 the chain\'s server is killed while a studio\'s logs come in: what it answered is there, and the rest comes once', async () => {
  const database = await engine?.database() ?? '';
  const first = await chainServer(database);
  const key = await keyFor(first.url, 'north');
  await stop(first);
  const folder = newFolder();
  const before = await sqliteStore(folder, () => {}, () => {});
  for (let i = 0; i < 24; i += 1) {
    const held = await teach(before, `many-${i}`, 'garden', serverAt(Date.now() - 3 * 86_400_000 + i * 3_600_000));
    await held.note(30);
    await held.end();
  }
  await before.stop();
  const port = await freePort();
  const there = await houseStore(database, 'north');
  const env = `export DATABASE_URL="${database}" HALLCLOCK_HOUSES="${HOUSES}";`;
  const chain = await startProcess(newFolder(), port, env);
  closing.push(() => chain.end('SIGKILL'));
  const studio = await serve(folder, { HALLCLOCK_CHAIN: chain.url, HALLCLOCK_CHAIN_KEY: key });
  closing.push(studio.close);
  await expect.poll(async () => (await there.since(0, 100)).length, { timeout: 60_000, interval: 5 }).toBeGreaterThan(2);
  await chain.end('SIGKILL');
  const half = await logsOf(there);
  const all = await logsOf(studio.studio.store);
  // Whole commands, from the oldest class on.
  expect(half.map((c) => c.id)).toEqual(all.slice(0, half.length).map((c) => c.id));
  for (const [i, { rows }] of half.entries()) expect(rows).toEqual(all[i]?.rows.slice(0, rows.length));
  await chainServer(database, port);
  await expect.poll(async () => (await there.since(0, 100)).filter((c) => c.endedAt !== null && c.seq === 32).length, patient).toBe(24);
  expect(await logsOf(there)).toEqual(all);
}, 180_000);

it.skipIf(!engine)('R70 R71 R72 R73 a key opens its own house and nothing else, is looked at before anything is read, and is kept as a hash only', async () => {
  const database = await engine?.database() ?? '';
  const chain = await chainServer(database);
  const [north, south] = [await keyFor(chain.url, 'north'), await keyFor(chain.url, 'south')];
  const body = { ...hello, now: Date.now(), waiting: 0, about: { timeZone: 'UTC', rooms: [] }, classes: [] };
  const have = (key: string | null) => {
    const asked = request(chain.url).post('/api/house/have');
    return (key === null ? asked : asked.set('Authorization', `Bearer ${key}`)).send(body);
  };
  for (const key of [null, 'north', `north.${'x'.repeat(22)}`, south.replace('south', 'north'), `west.${'x'.repeat(22)}`, `${north} `.repeat(50)]) {
    expect((await have(key)).status, String(key)).toBe(401);
  }
  // A stranger's body is not read, however large or broken.
  for (const sent of ['{', 'x'.repeat(HOUSE_MESSAGE_MOST_BYTES + 1)]) {
    expect((await request(chain.url).post('/api/house/log').set('content-type', 'application/json').send(sent)).status).toBe(401);
  }
  // A browser that is in at the desk has no house's key.
  expect((await inside(chain.url).post('/api/house/have').send(body)).status).toBe(401);
  // North writes to north, whatever it says.
  const folder = newFolder();
  const own = await sqliteStore(folder, () => {}, () => {});
  const held = await teach(own, 'of-north', 'garden', serverAt(Date.now()));
  await held.end();
  const rows = await own.log('of-north');
  await own.stop();
  const commands = rows.map((row) => ({ id: row.command, events: [row.event] }));
  const send: SendLog = { ...hello, classes: [{ id: 'of-north', from: 1, after: null, commands, closed: true, answers: [] }] };
  await request(chain.url).post('/api/house/log').set('Authorization', `Bearer ${north}`).send(send).expect(200);
  const [atNorth, atSouth] = [await houseStore(database, 'north'), await houseStore(database, 'south')];
  expect([(await atNorth.log('of-north')).length, (await atSouth.log('of-north')).length, (await chain.studio.store.log('of-north')).length]).toEqual([2, 0, 0]);
  const asSouth = await request(chain.url).post('/api/house/have').set('Authorization', `Bearer ${south}`).send({ ...body, classes: [{ id: 'of-north', startedAt: 1 }] }).expect(200);
  expect(asSouth.body.classes[0]).toMatchObject({ seq: 0, last: null });
  // What is too large is not taken, packed or not.
  const bomb = gzipSync(Buffer.alloc(HOUSE_MESSAGE_MOST_BYTES + 100, ' '));
  const headers = { authorization: `Bearer ${north}`, 'content-type': 'application/json', 'content-encoding': 'gzip' };
  expect((await fetch(`${chain.url}/api/house/log`, { method: 'POST', headers, body: new Uint8Array(bomb) })).status).toBe(413);
  expect((await request(chain.url).post('/api/house/log').set('Authorization', `Bearer ${north}`).send({ ...send, classes: [] })).status).toBe(400);
  expect((await request(chain.url).post('/api/house/have').set('Authorization', `Bearer ${north}`).send({ ...body, speaks: 2 })).body.error).toContain('The chain\'s server is older');
  // Of the keys the database has nothing that could be sent.
  const client = new pg.Client({ connectionString: database });
  await client.connect();
  const { rows: board } = await client.query<{ text: string }>('SELECT row_to_json(board)::text AS text FROM board');
  await client.end();
  expect(board.join().length).toBeGreaterThan(0);
  for (const key of [north, south]) expect(board.map((r) => r.text).join()).not.toContain(key.split('.')[1]);
  // A new key ends the one before, and only the desk's password makes one.
  for (const path of ['/api/desk/houses/north/key']) expect((await request(chain.url).post(path)).status).toBe(403);
  expect((await request(chain.url).get('/api/desk/houses')).status).toBe(403);
  const next = await keyFor(chain.url, 'north');
  expect([(await have(north)).status, (await have(next)).status]).toEqual([401, 200]);
  await inside(chain.url).post('/api/desk/houses/west/key').expect(404);
  // One house that asks without end is asked to wait; the other is not.
  const many = await Promise.all(Array.from({ length: HOUSE_RATE.burst * 2 }, () => have(next)));
  expect(many.filter((a) => a.status === 429).length).toBeGreaterThan(0);
  expect(many.find((a) => a.status === 429)?.headers['retry-after']).toBe('10');
  expect((await have(south)).status).toBe(200);
});

it.skipIf(!engine)('K547 every route of a chain\'s server is described', async () => {
  const noted = noteRoutes();
  const chain = await chainServer(await engine?.database() ?? '');
  noted.stop();
  const paths = (await request(chain.url).get('/api/openapi.json').expect(200)).body.paths as Record<string, Record<string, unknown>>;
  const described = Object.entries(paths).flatMap(([path, methods]) => Object.keys(methods).map((m) => `${m.toUpperCase()} ${path}`)).sort();
  expect(described).toEqual(noted.found('/api/health'));
  expect(described).toContain('POST /api/house/log');
});

it('K545 settings of reporting that do not go together are explained at the start, without the key', () => {
  const key = `north.${'k'.repeat(22)}`;
  const said = (env: Record<string, string>): string => { const read = readSettings(env); return 'wrong' in read ? read.wrong.join(' ') : ''; };
  expect(readSettings({ HALLCLOCK_CHAIN: 'https://chain.example', HALLCLOCK_CHAIN_KEY: key })).toMatchObject({ chain: { origin: 'https://chain.example', key } });
  expect(readSettings({ DATABASE_URL: 'postgres://h/d', HALLCLOCK_HOUSES: 'north=North Yard, south' })).toMatchObject({ houses: [{ id: 'north', name: 'North Yard' }, { id: 'south', name: 'south' }] });
  const wrong: [Record<string, string>, string][] = [
    [{ HALLCLOCK_CHAIN: 'chain.example' }, 'HALLCLOCK_CHAIN is "chain.example": it is no address of the chain\'s server'],
    [{ HALLCLOCK_CHAIN: 'https://chain.example/desk' }, 'it ends behind the name or the port'],
    [{ HALLCLOCK_CHAIN: 'https://chain.example' }, 'HALLCLOCK_CHAIN_KEY is missing'],
    [{ HALLCLOCK_CHAIN_KEY: key }, 'HALLCLOCK_CHAIN is missing'],
    [{ HALLCLOCK_CHAIN: 'https://chain.example', HALLCLOCK_CHAIN_KEY: `${key}secret` }, 'HALLCLOCK_CHAIN_KEY is no key: a key is as the chain\'s desk showed it'],
    [{ HALLCLOCK_CHAIN: 'https://chain.example', HALLCLOCK_CHAIN_KEY: key, DATABASE_URL: 'postgres://h/d' }, 'are both set'],
    [{ HALLCLOCK_HOUSES: HOUSES }, 'HALLCLOCK_HOUSES is set and DATABASE_URL is not'],
    [{ HALLCLOCK_HOUSES: 'North Yard' }, 'houses are "id=Name"'],
    [{ HALLCLOCK_HOUSES: 'a=A,a=B' }, 'each id once'],
  ];
  for (const [env, sentence] of wrong) {
    expect(said(env)).toContain(sentence);
    expect(said(env)).not.toContain('secret');
  }
});

it('R74 K546 the key goes to the chain\'s address and nowhere else, and what hinders is said in a sentence', async () => {
  const seen: string[] = [];
  const answers = new Map<string, (path: string) => { readonly status: number; readonly body?: unknown; readonly to?: string }>();
  const open = async (name: string): Promise<string> => {
    const server: Server = createServer((asked, response) => {
      seen.push(`${name} ${asked.headers.authorization ?? ''}`);
      const { status, body, to } = answers.get(name)?.(asked.url ?? '') ?? { status: 200 };
      asked.resume().on('end', () => response.writeHead(status, { 'content-type': 'application/json', ...(to === undefined ? {} : { location: to }) }).end(JSON.stringify(body ?? {})));
    });
    await new Promise<void>((resolve) => { server.listen(0, '127.0.0.1', resolve); });
    closing.push(() => new Promise((resolve) => { server.close(resolve); server.closeAllConnections(); }));
    const address = server.address();
    return `http://127.0.0.1:${address && typeof address === 'object' ? address.port : 0}`;
  };
  const [one, other] = [await open('one'), await open('other')];
  const key = `north.${'k'.repeat(22)}`;
  const ask = (origin: string) => askOver(origin, key, new AbortController().signal).have({ ...hello, now: 1, waiting: 0, about: { timeZone: 'UTC', rooms: [] }, classes: [] }).then(() => '', (error: Error) => error.message);
  const says = (status: number, body?: unknown) => { answers.set('one', () => ({ status, body })); return ask(one); };
  answers.set('one', () => ({ status: 308, to: `${other}/api/house/have` }));
  expect(await ask(one)).toContain('sends on to another address');
  expect(seen).toEqual([`one Bearer ${key}`]);
  const named: [number, unknown, string][] = [
    [401, { error: 'no' }, 'The chain does not know this studio\'s key'],
    [404, {}, 'takes no reports of studios'],
    [409, { error: 'The studio\'s server is older than the chain\'s.' }, 'The studio\'s server is older than the chain\'s.'],
    [421, { error: 'This server is not called "x".' }, 'It says: This server is not called "x".'],
    [429, {}, 'asked too much'],
    [503, {}, 'database does not answer'],
    [507, {}, 'its disk is full'],
    [200, { hello: 'there' }, 'it is no Hallclock, or a much newer one'],
  ];
  for (const [status, body, sentence] of named) expect(await says(status, body)).toContain(sentence);
  expect(await ask('http://127.0.0.1:9')).toContain('does not answer');
  expect(await ask('http://nobody.invalid')).toContain('is not known here');
});
