/** Holds all houses now: a class of one house as the chain's server tells it, read on while it runs; a stop is its own house's affair. */
import { afterAll, describe, expect, it } from 'vitest';
import { allLiveSchema } from '../../shared/wire/all.ts';
import { device, inside, live, newFolder, pair, serve } from '../server/serve.ts';
import { testPostgres } from './postgres.ts';

const engine = await testPostgres();
const closing: (() => unknown)[] = [];
afterAll(async () => {
  for (const close of closing.reverse()) await close();
  await engine?.close();
});

describe.skipIf(!engine)('all houses now', () => {
  it('K563 all rooms of all houses as they are now: what runs, since when, how many, how late; a stop is told as a pause', async () => {
    const env = { DATABASE_URL: await engine?.database() ?? '' };
    const chain = await serve(newFolder(), { ...env, HALLCLOCK_STUDIO_ID: 'chain', HALLCLOCK_HOUSES: 'north=North Yard,south=South Yard' });
    const north = await serve(newFolder(), { ...env, HALLCLOCK_STUDIO_ID: 'north', HALLCLOCK_ROOMS: 'garden:Garden room,street:Street room', HALLCLOCK_TIME_ZONE: 'Europe/Berlin' });
    closing.push(chain.close, north.close);
    const now = async () => allLiveSchema.parse((await inside(chain.url).get('/api/all/live').expect(200)).body);
    const garden = async () => (await now()).houses[0]?.rooms[0]?.class ?? null;
    const before = await now();
    expect(before.houses.map((h) => [h.id, h.name, h.timeZone, h.heardAt, h.rooms.map((r) => [r.id, r.name, r.class])])).toEqual([
      ['north', 'North Yard', 'Europe/Berlin', null, [['garden', 'Garden room', null], ['street', 'Street room', null]]],
      // Nothing was ever heard of it: it is named all the same.
      ['south', 'South Yard', 'UTC', null, []],
    ]);
    const screen = device(north.url, 'screen');
    const phone = device(north.url, 'phone', await pair(north.url, screen));
    closing.push(screen.close, phone.close);
    await phone.until(live, 'the phone');
    const say = async (command: Parameters<ReturnType<typeof phone.room>['send']>[0]) => { expect(await phone.room().send(command)).toMatchObject({ done: true }); };
    await say({ type: 'start', plan: 'quarter-hour', freeAt: null });
    const { session } = await phone.until((r) => r.session !== null, 'the class');
    expect(await garden()).toMatchObject({ id: session?.id, name: session?.plan.name, startedAt: session?.startedAt, promisedAt: session?.promisedAt, headCount: null, over: false, paused: false });
    await say({ type: 'head-count', n: 14 });
    await say({ type: 'pause', reason: null });
    const paused = await garden();
    expect(paused).toMatchObject({ headCount: 14, paused: true, title: 'Paused' });
    // A pause has no end of its own: the class ends later and later.
    await expect.poll(async () => (await garden())?.projectedAt, { timeout: 30_000 }).toBeGreaterThan(paused?.projectedAt ?? Infinity);
    await phone.until((r) => Boolean(r.session?.pause), 'the pause');
    await say({ type: 'carry-on', pause: phone.room().session?.pauses ?? -1 });
    expect(await garden()).toMatchObject({ paused: false });
    await say({ type: 'stop' });
    expect(await garden()).toMatchObject({ paused: true, title: 'Paused' });
    await say({ type: 'to-paused' });
    await say({ type: 'end' });
    expect(await garden()).toMatchObject({ over: true });
    expect((await now()).houses[1]?.rooms).toEqual([]);
  }, 60_000);
});
