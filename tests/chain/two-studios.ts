/**
 * Owns two whole studios in one PostgreSQL and one Redis, north and south, and a second server of south; north
 * is filled with a row, a file or a name of every kind, and all of them carry what only north knows.
 */
import { mkdirSync, readdirSync, readFileSync, statSync, copyFileSync } from 'node:fs';
import { join } from 'node:path';
import pg from 'pg';
import { createClient } from 'redis';
import type { Movement } from '../../shared/movement/movement.ts';
import { type Device, device, live, newFolder, pair, serve } from '../server/serve.ts';
import { jpeg } from '../server/small-files.ts';

/** Stands in every text of north that is nobody else's to read. */
export const CANARY = 'quokka-mirror';
/** The same of south, so that what carries both is found. */
export const OF_SOUTH = 'heron-on-the-roof';
/** A room of this name is in both. */
export const ROOM = 'garden';
export const ONLY_NORTH = 'cellar-of-north';
export const PASSWORDS = { north: 'lantern-gravel-otter', south: 'pebble-window-sage' } as const;

type Server = Awaited<ReturnType<typeof serve>>;
export interface House { readonly server: Server; readonly data: string; readonly desk: string; readonly phone: string; readonly screen: Device; readonly hand: Device }
const cookieOf = (answer: Response): string => (answer.headers.get('set-cookie') ?? '').split(';')[0] ?? '';

/** Comes in at the desk; the cookie. */
export const comeIn = async (url: string, password: string): Promise<Response> => fetch(`${url}/api/desk/in`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ password }) });

export type Closing = (() => unknown)[];
async function house(id: keyof typeof PASSWORDS, env: Record<string, string>, rooms: string, closing: Closing): Promise<House> {
  const data = newFolder();
  mkdirSync(join(data, 'music'));
  for (const name of [`music-of-${id}`, id === 'north' ? CANARY : OF_SOUTH]) copyFileSync(join(import.meta.dirname, '../../media/sounds/room-0.wav'), join(data, 'music', `${name}.wav`));
  const server = await serve(data, { ...env, HALLCLOCK_STUDIO_ID: id, HALLCLOCK_PASSWORD: PASSWORDS[id], HALLCLOCK_STUDIO: id === 'north' ? CANARY : OF_SOUTH, HALLCLOCK_ROOMS: rooms }, { firstStart: true });
  closing.push(server.close);
  const screen = device(server.url, 'screen');
  closing.push(screen.close);
  const phone = await pair(server.url, screen);
  const hand = device(server.url, 'phone', phone);
  closing.push(hand.close);
  await hand.until(live, `the phone of ${id}`);
  return { server, data, desk: cookieOf(await comeIn(server.url, PASSWORDS[id])), phone, screen, hand };
}

async function must(at: House, method: string, path: string, body?: object | Buffer): Promise<Record<string, unknown>> {
  const raw = body instanceof Buffer;
  const answer = await fetch(`${at.server.url}${path}`, { method, headers: { cookie: at.desk, ...(body ? { 'content-type': raw ? 'application/octet-stream' : 'application/json' } : {}) }, ...(body ? { body: raw ? new Uint8Array(body) : JSON.stringify(body) } : {}) });
  const text = await answer.text();
  if (!answer.ok) throw new Error(`${method} ${path} of north: ${answer.status} ${text}`);
  return JSON.parse(text) as Record<string, unknown>;
}

export const planNamed = (id: string, name: string): object => ({ format: 1, id, name, sections: [{ id: 'main', kind: 'main', work: 40, items: [{ movement: 'squat' }] }] });

/** Fills north. Gives the ids of what is there: they are no secret to whoever tries them, until they were sent. */
async function fill(north: House): Promise<string[]> {
  const [plan, gone] = ['winter-of-north', 'autumn-of-north'];
  await must(north, 'POST', '/api/plans', planNamed(plan, `${CANARY} before`));
  const { revision } = await must(north, 'GET', `/api/plans/${plan}/kept`);
  await must(north, 'PUT', `/api/plans/${plan}`, { base: revision, plan: planNamed(plan, CANARY) });
  await must(north, 'POST', '/api/plans', planNamed(gone, CANARY));
  const { file } = await must(north, 'DELETE', `/api/plans/${gone}`);
  await must(north, 'PUT', `/api/plans/${plan}/cover`, { note: CANARY });
  await must(north, 'PUT', '/api/emergency', { address: CANARY, floor: CANARY, wayOut: CANARY, localRules: CANARY });
  const { movements } = await must(north, 'GET', '/api/movements') as { movements: (Movement & { figure?: unknown })[] };
  const { figure: _figure, ...squat } = movements.find((m) => m.id === 'squat') as Movement & { figure?: unknown };
  await must(north, 'POST', '/api/movements', { ...squat, id: 'squat-of-north', name: CANARY });
  const { picture } = await must(north, 'PUT', '/api/movements/squat-of-north/picture', jpeg) as { picture: { file: string } };
  const { revision: base } = await must(north, 'GET', '/api/timetable');
  await must(north, 'PUT', '/api/timetable', { base, entries: [{ id: 'monday-of-north', plan, room: ROOM, day: '2026-01-05', at: '18:00', minutes: 45, weekly: true }] });

  const ids: string[] = [];
  // One that has ended, and one that runs.
  for (const how of ['ended', 'running']) {
    const before = north.hand.room().session?.id;
    await done(north, { type: 'start', plan, freeAt: null, instructor: CANARY });
    ids.push((await north.hand.until((r) => r.session !== null && r.session.id !== before, 'a class of north')).session?.id ?? '');
    await done(north, { type: 'note', text: CANARY });
    await done(north, { type: 'head-count', n: 17 });
    if (how === 'running') continue;
    await done(north, { type: 'end' });
    await must(north, 'POST', `/api/answers/${ids[0]}`, { rating: 7 });
  }
  const { phones, desks } = await must(north, 'GET', '/api/desk/devices') as Record<'phones' | 'desks', { id: string }[]>;
  return [...ids, plan, gone, String(file), String(revision), 'squat-of-north', picture.file, 'monday-of-north', 'music-of-north.wav', ...[...phones, ...desks].map((d) => d.id), ONLY_NORTH];
}
const done = async (at: House, command: Parameters<ReturnType<Device['room']>['send']>[0]): Promise<void> => {
  const answer = await at.hand.room().send(command);
  if (!('done' in answer) || answer.done !== true) throw new Error(`${command.type} of north: ${JSON.stringify(answer)}`);
};

/** All that a studio has on disk. */
const files = (data: string): Record<string, string> => Object.fromEntries(readdirSync(data, { recursive: true }).map(String).filter((f) => statSync(join(data, f)).isFile()).sort().map((f) => [f, readFileSync(join(data, f)).toString('base64')]));

export interface TwoStudios { readonly north: House; readonly south: House; readonly alsoSouth: Server; readonly ids: readonly string[]; readonly ofNorth: () => Promise<object>; readonly streams: () => Promise<Record<string, string>> }

/** @param closing what is to be ended afterwards, last first @param walled false takes row security out: the sentences hold alone then */
export async function twoStudios(base: string, redisUrl: string, closing: Closing, walled = true): Promise<TwoStudios> {
  const admin = new pg.Client({ connectionString: base });
  await admin.connect();
  closing.push(() => admin.end());
  const name = new URL(base).pathname.slice(1);
  // The servers' user is an ordinary one, as the compose file makes it.
  await admin.query(`CREATE ROLE of_${name} LOGIN NOSUPERUSER NOBYPASSRLS`);
  await admin.query(`ALTER DATABASE ${name} OWNER TO of_${name}`);
  const url = new URL(base);
  url.username = `of_${name}`;
  const env = { DATABASE_URL: url.href, REDIS_URL: redisUrl };
  const north = await house('north', env, `${ROOM}:${CANARY},${ONLY_NORTH}:${CANARY} below`, closing);
  const tables = async () => (await admin.query<{ name: string }>("SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' ORDER BY 1")).rows.map((r) => r.name).filter((t) => t !== 'migrations');
  if (!walled) for (const table of await tables()) await admin.query(`ALTER TABLE ${table} DISABLE ROW LEVEL SECURITY`);
  const south = await house('south', env, `${ROOM}:${OF_SOUTH}`, closing);
  const alsoSouth = await serve(south.data, { ...env, HALLCLOCK_STUDIO_ID: 'south', HALLCLOCK_PASSWORD: PASSWORDS.south, HALLCLOCK_STUDIO: OF_SOUTH, HALLCLOCK_ROOMS: `${ROOM}:${OF_SOUTH}` }, { firstStart: true });
  closing.push(alsoSouth.close);
  const ids = await fill(north);
  const redis = createClient({ url: redisUrl });
  await redis.connect();
  closing.push(() => redis.close());
  return {
    north, south, alsoSouth, ids,
    /** What only the engine's own user sees: north's rows, and north's files beside them. */
    ofNorth: async () => {
      const rows: Record<string, unknown> = {};
      // What a server writes by itself: that it can, and what time it has.
      for (const table of (await tables()).filter((t) => t !== 'health' && t !== 'time')) {
        const found = (await admin.query<Record<string, unknown>>(`SELECT * FROM ${table} ORDER BY 1, 2${table === 'documents' ? ', 3' : ''}`)).rows.filter((r) => (r.studio ?? 'north') === 'north');
        rows[table] = found.map((row) => Object.fromEntries(Object.entries(row).map(([key, value]) => [key, Buffer.isBuffer(value) ? value.toString() : value])));
      }
      return { rows, files: files(north.data) };
    },
    streams: async () => {
      const found: Record<string, string> = {};
      for (const key of await redis.keys('*')) if (await redis.type(key) === 'stream') found[key] = JSON.stringify(await redis.xRange(key, '-', '+'));
      return found;
    },
  };
}
