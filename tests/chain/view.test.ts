/** Holds the chain's view: its figures, computed in SQL, against the one-studio code on the same classes; who may see it, and what it may touch. */
import pg from 'pg';
import Papa from 'papaparse';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { openOver } from '../../server/houses/over.ts';
import { dateOf, dayOf } from '../../server/review/record.ts';
import { postgresStore } from '../../server/store/postgres.ts';
import { ROLE_OF_ROWS } from '../../server/store/postgres-shape.ts';
import { HOUSES_OF_CONNECTION } from '../../server/store/shape.ts';
import { serverAt } from '../../shared/time/units.ts';
import { type AllReview, allReviewSchema } from '../../shared/wire/all.ts';
import { chanceOf, pick, whole } from '../simulation/chance.ts';
import { SEED } from '../seed.ts';
import { inside, newFolder, serve } from '../server/serve.ts';
import { type HouseYears, yearsOf } from './houses-years.ts';
import { testPostgres } from './postgres.ts';

const engine = await testPostgres();
afterAll(() => engine?.close());

const UNTIL = '2026-11-20';
const houses: readonly HouseYears[] = [
  { id: 'north', timeZone: 'Europe/Berlin', rooms: ['garden', 'street'], classes: 70, seed: 31 },
  { id: 'south', timeZone: 'Pacific/Auckland', rooms: ['garden', 'attic'], classes: 50, seed: 32 },
];
let url: string;
let server: Awaited<ReturnType<typeof serve>>;
let years: Awaited<ReturnType<typeof yearsOf>>;
const get = (path: string) => inside(server.url).get(path);

beforeAll(async () => {
  if (!engine) return;
  url = await engine.database();
  years = await yearsOf(url, houses, UNTIL);
  server = await serve(newFolder(), { DATABASE_URL: url, HALLCLOCK_HOUSES: 'north=North Yard,south=South Yard', HALLCLOCK_STUDIO_ID: 'chain', HALLCLOCK_TIME_ZONE: 'UTC' });
  await vi.waitFor(async () => { expect((await get('/api/all/review')).body.toRead).toBe(0); }, { timeout: 60_000, interval: 200 });
}, 120_000);
afterAll(() => server?.close());

/** Sums of numbers with a point are added in another order in SQL: they are held to one part in a thousand million. All else is the same to the last digit. */
function close(a: unknown, b: unknown, at: string): void {
  if (typeof a === 'number' && typeof b === 'number' && !(Number.isInteger(a) && Number.isInteger(b))) expect(Math.abs(a - b), at).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(a), Math.abs(b)));
  else if (typeof a === 'object' && a !== null && typeof b === 'object' && b !== null) {
    expect(Object.keys(a).sort(), at).toEqual(Object.keys(b).sort());
    for (const key of Object.keys(a)) close((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key], `${at}.${key}`);
  } else expect(a, at).toEqual(b);
}
type One = ReturnType<typeof years.many>;
/** Without what things are called where that is the chain's own affair, in one order, and keys as the house itself has them. */
function plain(r: One | AllReview, house: string | null) {
  const key = (k: string) => (house !== null && k.startsWith(`${house}/`) ? k.slice(house.length + 1) : k);
  const keyed = <K extends { readonly key: string; readonly name: string }>(list: readonly K[], names: boolean) =>
    list.map(({ name, ...rest }) => ({ ...rest, key: key(rest.key), ...(names ? { name } : {}) })).sort((x, y) => (x.key < y.key ? -1 : 1));
  const { first, last, movement, held, stopped, weeks, moves, lateStart, grew, cuts, choices } = r;
  return {
    first, last, movement, held, stopped, weeks, moves, lateStart, grew,
    cuts: { ...cuts, sections: [...cuts.sections].sort((x, y) => (x.kind < y.kind ? -1 : 1)).map(({ kind, ms, plannedMs }) => ({ kind, ms, plannedMs })) },
    rooms: keyed(r.rooms, false), plans: keyed(r.plans, true), series: keyed(r.series, false),
    choices: { rooms: keyed(choices.rooms, false), plans: keyed(choices.plans, true), series: keyed(choices.series, false), movements: keyed(choices.movements, true) },
  };
}

interface Wanted { readonly house: string | null; readonly from: number; readonly to: number; readonly room?: string; readonly plan?: string; readonly series?: string; readonly movement?: string }
async function ask({ house, from, to, ...rest }: Wanted): Promise<AllReview> {
  const inHouse = (name: string | undefined) => (house === null || name === undefined || name.startsWith('* ') ? name : `${house}/${name}`);
  const given = { ...rest, room: inHouse(rest.room), series: inHouse(rest.series), ...(house === null ? {} : { house }), from: dateOf(from), to: dateOf(to) };
  const query = new URLSearchParams(Object.entries(given).filter((e): e is [string, string] => e[1] !== undefined));
  return allReviewSchema.parse((await get(`/api/all/review?${query}`).expect(200)).body);
}
const LONG = { from: dayOf('2015-01-01') ?? 0, to: dayOf('2027-01-01') ?? 0 };

describe.skipIf(!engine)('the chain\'s view', () => {
  it('K560 figures over all houses are those of the one-studio code on the same classes, house by house and together', async () => {
    for (const house of ['north', 'south', null]) {
      const ours = await ask({ house, ...LONG });
      expect([house, ours.held > 30, ours.stopped > 3, ours.weeks.some((w) => w.rated > 0), ours.cuts.classes > 0]).toEqual([house, true, true, true, true]);
      close(plain(ours, house), plain(years.many(house, LONG), house), house ?? 'all');
    }
    const [north, south, all] = [await ask({ house: 'north', ...LONG }), await ask({ house: 'south', ...LONG }), await ask({ house: null, ...LONG })];
    expect(all.houses.map((h) => [h.key, h.name, h.held])).toEqual([['north', 'North Yard', north.held], ['south', 'South Yard', south.held]]);
    expect([all.held, all.stopped, all.cuts.classes, all.lateStart.of]).toEqual([north.held + south.held, north.stopped + south.stopped, north.cuts.classes + south.cuts.classes, north.lateStart.of + south.lateStart.of]);
    for (const { key, name: _name, ...sums } of all.houses) close(sums, Object.fromEntries(Object.keys(sums).map((s) => [s, (key === 'north' ? north : south).weeks.reduce((n, w) => n + (w[s as keyof typeof w] ?? 0), 0)])), key);
    expect(all.rooms.find((r) => r.key === 'south/attic')?.name).toBe('The attic, South Yard');
    expect(south.rooms.find((r) => r.key === 'south/attic')?.name).toBe('The attic');
  });

  it('K560 the same of any days, room, plan, series and movement that are chosen', async () => {
    const chance = chanceOf(SEED, 'choices over houses');
    const last = dayOf(UNTIL) ?? 0;
    let some = 0;
    for (let k = 0; k < 40; k += 1) {
      const house = pick(chance, ['north', 'south', null]);
      const { choices } = years.many(house, LONG);
      const from = last - whole(chance, 0, 60);
      const maybe = (name: 'room' | 'plan' | 'series' | 'movement', part: number, list: readonly { readonly key: string }[]) => (chance() < part && list.length > 0 ? { [name]: list[whole(chance, 0, list.length - 1)]?.key } : {});
      const asked = { from, to: from + whole(chance, 0, 40), ...maybe('room', 0.3, choices.rooms), ...maybe('plan', 0.3, choices.plans), ...maybe('series', 0.2, choices.series), ...maybe('movement', 0.4, choices.movements) };
      const [ours, one] = [await ask({ house, ...asked }), years.many(house, asked)];
      close(plain(ours, house), plain(one, house), JSON.stringify({ seed: SEED, house, asked }));
      if (one.held > 0) some += 1;
    }
    expect(some).toBeGreaterThan(10);
    expect(await ask({ house: null, ...LONG, movement: 'no-such' })).toMatchObject({ held: 0, moves: [], houses: [], lateStart: { of: 0, medianMs: null } });
  });

  it('K561 an export of all houses has the house in its first column, a row for each class that is in a figure', async () => {
    const all = await ask({ house: null, ...LONG });
    const table = Papa.parse<string[]>((await get('/api/all/export.csv?from=2015-01-01&to=2027-01-01').expect(200).expect('content-type', /text\/csv/)).text, { skipEmptyLines: true });
    const json = (await get('/api/all/export.json?from=2015-01-01&to=2027-01-01').expect(200)).body as { columns: string[]; classes: (string | number | null)[][] };
    expect(table.errors).toEqual([]);
    expect([table.data[0], json.columns[0]]).toEqual([json.columns, 'house']);
    expect(table.data.slice(1)).toEqual(json.classes.map((row) => row.map((cell) => (cell === null ? '' : String(cell)))));
    for (const house of all.houses) {
      const own = json.classes.filter((row) => row[0] === house.name);
      expect(own.length).toBe(house.held);
      expect(own.reduce((n, row) => n + Math.round(Number(row[json.columns.indexOf('length s')]) * 1_000), 0)).toBe(house.totalMs);
    }
    // Each in its own house's time.
    const started = (name: string) => String(json.classes.find((row) => row[0] === name)?.[json.columns.indexOf('started')]);
    expect([started('North Yard').slice(-6), started('South Yard').slice(-6)].map((o) => o.slice(0, 2))).toEqual(['+0', '+1']);
    const one = (await get('/api/all/export.json?from=2015-01-01&to=2027-01-01&house=south').expect(200)).body as { classes: string[][] };
    expect(new Set(one.classes.map((row) => row[0]))).toEqual(new Set(['South Yard']));
  });

  it('K562 what looks over houses reads rows of these houses alone, none of their codes and phones, and writes nothing', async () => {
    const west = await postgresStore(url, () => {}, 'west');
    const north = await postgresStore(url, () => {}, 'north');
    for (const [store, id] of [[west, 'west'], [north, 'north']] as const) {
      await store.append({ summary: { id: `of ${id}`, room: 'garden', plan: 'p', name: 'N', startedAt: 1, endedAt: null, how: 'running', headCount: null }, seq: 1, command: 'c', events: [{ type: 'noted', at: serverAt(1), text: 'x' }] });
      await store.pair('token', 'garden', 1);
      await store.chain?.put('code/123456', 'garden');
    }
    const over = openOver(url, ['north', 'south'], () => {});
    const seen = await over.read(async (ask) => {
      const tables = (await ask<{ name: string }>("SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' ORDER BY 1")).map((t) => t.name).filter((t) => t !== 'migrations' && t !== 'authority');
      const out: Record<string, string[]> = {};
      for (const table of tables) out[table] = (await ask<{ studio: string }>(`SELECT DISTINCT studio FROM ${table} ORDER BY 1`)).map((r) => r.studio);
      return out;
    });
    const both = ['north', 'south'];
    expect(Object.fromEntries(Object.entries(seen).filter(([, studios]) => studios.length > 0))).toEqual({ sessions: both, events: both, answers: both, records: both, record_moves: both, record_cuts: both, board: both });
    expect(await over.read((ask) => ask<{ entry: string }>('SELECT DISTINCT entry FROM board'))).toEqual([{ entry: 'about' }]);
    const writes = ["UPDATE sessions SET name = 'x'", 'DELETE FROM events', "INSERT INTO phones VALUES ('t', 'garden', 1, 'north')", 'DELETE FROM records'];
    for (const sql of writes) await expect(over.read((ask) => ask(sql)), sql).rejects.toThrow(/read-only transaction/);
    // The wall holds writing by itself, without the read-only transaction: there is no row that it could change.
    const client = new pg.Client({ connectionString: url });
    await client.connect();
    await client.query(`SET ROLE ${ROLE_OF_ROWS}; SELECT set_config('${HOUSES_OF_CONNECTION}', 'north,south', false)`);
    for (const sql of writes.filter((w) => !w.startsWith('INSERT'))) expect((await client.query(sql)).rowCount, sql).toBe(0);
    await expect(client.query(writes[2] ?? '')).rejects.toThrow(/row-level security/);
    await client.end();
    await north.remove(['of north']);
    await Promise.all([over.stop(), west.stop(), north.stop()]);
  });

  it('K562 what was made of a class goes with it, and is made again when its head count changes', async () => {
    const north = await postgresStore(url, () => {}, 'north');
    const before = await ask({ house: 'north', ...LONG });
    const classes = (await north.classes(null, 100)).classes;
    // The newest of those that are in a figure.
    const counted = (await get('/api/all/export.json?from=2015-01-01&to=2027-01-01&house=north').expect(200)).body as { classes: string[][] };
    const [own, other] = classes.filter((c) => counted.classes.some((row) => row[1] === c.id));
    if (!own || !other) throw new Error('no classes');
    await north.close({ ...other, headCount: (other.headCount ?? 0) + 5 });
    await expect.poll(async () => (await ask({ house: 'north', ...LONG })).weeks.reduce((n, w) => n + w.heads, 0), { timeout: 30_000, interval: 200 })
      .toBe(before.weeks.reduce((n, w) => n + w.heads, 0) + 5);
    await north.remove([own.id]);
    const after = await ask({ house: 'north', ...LONG });
    expect(after.held).toBe(before.held - 1);
    await north.stop();
  });

  it('K564 the view is for those who gave the desk\'s password, and is nowhere where no houses are named', async () => {
    const none = await serve(newFolder(), { HALLCLOCK_STUDIO_ID: 'alone' });
    for (const path of ['live', 'review', 'export.csv', 'export.json']) {
      expect((await fetch(`${server.url}/api/all/${path}`)).status, path).toBe(403);
      expect((await inside(none.url).get(`/api/all/${path}`)).status, path).toBe(404);
    }
    const described = async (at: string) => Object.keys(((await (await fetch(`${at}/api/openapi.json`)).json()) as { paths: object }).paths).filter((p) => p.startsWith('/api/all/'));
    expect([(await described(server.url)).length, await described(none.url)]).toEqual([4, []]);
    for (const query of ['house=west', 'from=2026-02-30', 'house=north&house=south', 'room[]=x']) expect((await get(`/api/all/review?${query}`)).status, query).toBe(400);
    await none.close();
  });
});
