/** Holds what comes down from a chain between real servers: a real PostgreSQL, a key from the desk, a line that is cut, both desks. */
import { afterAll, afterEach, expect, it } from 'vitest';
import type { Plan } from '../../shared/plan/plan.ts';
import { chainStandsSchema, conflictsHereSchema, housesSchema } from '../../shared/wire/house.ts';
import { freePort } from '../server/process.ts';
import { inside, newFolder, serve } from '../server/serve.ts';
import { testPostgres } from './postgres.ts';
import { line, plan } from './two-desks.ts';

const engine = await testPostgres();
const closing: (() => Promise<unknown> | unknown)[] = [];
afterEach(async () => { for (const close of closing.splice(0).reverse()) await close(); });
afterAll(() => engine?.close());

it.skipIf(!engine)('K533 K534 between real servers: a week apart, then the plan is brought together; both desks say so, a timetable is made at the chain for a house, and only the desk may', async () => {
  const database = await engine?.database() ?? '';
  const port = await freePort();
  const env = { DATABASE_URL: database, HALLCLOCK_HOUSES: 'north=North Yard,south=South Yard', HALLCLOCK_PORT: String(port) };
  const patient = { timeout: 60_000, interval: 200 };
  let chain = await serve(newFolder(), env);
  closing.push(() => chain.close());
  const at = (url: string) => inside(url);
  const key = (await at(chain.url).post('/api/desk/houses/north/key').expect(200)).body.key as string;
  expect((await at(chain.url).get('/api/desk/houses/north/timetable').expect(409)).body.error).toContain('was not heard yet');
  await at(chain.url).get('/api/desk/houses/west/timetable').expect(404);
  expect((await fetch(`${chain.url}/api/desk/houses/north/timetable`)).status).toBe(403);
  expect((await fetch(`${chain.url}/api/house/plans`, { method: 'POST' })).status).toBe(401);
  await at(chain.url).post('/api/plans').send(plan()).expect(201);
  const studio = await serve(newFolder(), { HALLCLOCK_CHAIN: `http://127.0.0.1:${port}`, HALLCLOCK_CHAIN_KEY: key });
  closing.push(studio.close);
  const kept = async (url: string) => (await at(url).get('/api/plans/dawn/kept')).body as { plan: Plan; revision: string };
  const rename = async (url: string, name: string) => { const { plan: now, revision } = await kept(url); await at(url).put('/api/plans/dawn').send({ base: revision, plan: { ...now, name } }).expect(200); };
  const stands = async () => chainStandsSchema.parse((await at(studio.url).get('/api/chain').expect(200)).body).upward;
  const north = async () => housesSchema.parse((await at(chain.url).get('/api/desk/houses').expect(200)).body).houses[0];
  await expect.poll(async () => (await kept(studio.url)).plan?.name, patient).toBe('Dawn');
  // The timetable of the house, with its own rooms.
  const { body: { entries: _none, revision: base, rooms } } = await at(chain.url).get('/api/desk/houses/north/timetable').expect(200);
  expect(rooms).toEqual([{ id: 'garden', name: 'Garden room' }]);
  await at(chain.url).put('/api/desk/houses/north/timetable').send({ base, entries: [line({ room: 'attic' })] }).expect(400);
  await at(chain.url).put('/api/desk/houses/north/timetable').send({ base, entries: [line()] }).expect(200);
  expect((await at(chain.url).put('/api/desk/houses/north/timetable').send({ base, entries: [] }).expect(409)).body.error).toContain('nothing was overwritten');
  expect((await at(chain.url).get('/api/timetable').expect(200)).body.entries).toEqual([]);
  await expect.poll(async () => (await at(studio.url).get('/api/timetable').expect(200)).body.entries, patient).toEqual([line()]);
  await expect.poll(async () => [(await north())?.plansAt !== null, (await north())?.conflicts, (await stands())?.plansAt !== null, (await stands())?.conflicts], patient).toEqual([true, 0, true, 0]);
  // The line goes; both write.
  await chain.close();
  await rename(studio.url, 'Dawn of the studio');
  chain = await serve(newFolder(), env);
  await rename(chain.url, 'Dawn of the chain');
  await expect.poll(async () => (await stands())?.conflicts, patient).toBe(1);
  await expect.poll(async () => (await north())?.conflicts, patient).toBe(1);
  expect((await kept(studio.url)).plan.name).toBe('Dawn of the studio');
  const { plans: [waiting] } = conflictsHereSchema.parse((await at(studio.url).get('/api/chain/conflicts').expect(200)).body);
  const settle = { kind: 'plan', ours: waiting?.ours, theirs: waiting?.theirs, chosen: { name: 'theirs' } };
  expect((await fetch(`${studio.url}/api/chain/settle`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(settle) })).status).toBe(403);
  expect((await fetch(`${studio.url}/api/chain/conflicts`)).status).toBe(403);
  expect((await at(studio.url).post('/api/chain/settle').send(settle).expect(200)).body).toEqual({ plans: [], lines: [] });
  await at(studio.url).post('/api/chain/settle').send(settle).expect(409);
  expect((await kept(studio.url)).plan.name).toBe('Dawn of the chain');
  await expect.poll(async () => (await north())?.conflicts, patient).toBe(0);
}, 240_000);
