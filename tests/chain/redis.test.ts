/** Holds three real servers on one real PostgreSQL and one real Redis: one room, whichever its devices hang on, and whichever of the two is away. */
import { afterAll, afterEach, expect, it } from 'vitest';
import { connect } from '../bench/server.ts';
import { readSettings } from '../../server/settings.ts';
import { PROTOCOL } from '../../shared/wire/protocol.ts';
import { type Device, device, live, newFolder, pair, serve } from '../server/serve.ts';
import { freePort } from '../server/process.ts';
import { testPostgres } from './postgres.ts';
import { testRedis } from './redis.ts';

const engine = await testPostgres();
const redis = await testRedis();
const here = engine !== null && redis !== null;
const closing: (() => Promise<unknown> | unknown)[] = [];
afterEach(async () => { for (const close of closing.splice(0).reverse()) await close(); });
afterAll(async () => { await redis?.stop(); await engine?.close(); });

const join = (...args: Parameters<typeof device>): Device => {
  const made = device(...args);
  closing.push(() => made.close());
  return made;
};
type Server = Awaited<ReturnType<typeof serve>>;
async function servers(count: number, env: Record<string, string> = {}) {
  const database = await engine?.database() ?? '';
  const made: Server[] = [];
  for (let n = 0; n < count; n += 1) {
    const server = await serve(newFolder(), { DATABASE_URL: database, ...env });
    made.push(server);
    let open: Promise<void> | null = null;
    const close = () => { open ??= server.close(); return open; };
    closing.push(close);
    made[n] = { ...server, close };
  }
  return made as [Server, Server, Server];
}
const WAIT = { timeout: 30_000, interval: 20 };

it.skipIf(!here)('K505 a screen, a phone and a second screen of a room hang on three servers; news comes through Redis, and through the database while Redis is away', async () => {
  const [one, two, three] = await servers(3, { REDIS_URL: redis?.url ?? '' });
  const screen = join(one.url, 'screen');
  const second = join(three.url, 'screen');
  const phone = join(two.url, 'phone', await pair(one.url, screen));
  // A bare ear on the third server: what comes by both ways it hears twice.
  const ear = await connect(three.url);
  closing.push(() => ear.disconnect());
  const heard: number[] = [];
  ear.on('news', ({ seq }: { seq: number }) => { heard.push(seq); });
  await ear.emitWithAck('join', { protocol: PROTOCOL, role: 'screen', room: 'garden' });
  await Promise.all([screen, phone, second].map((d) => d.until(live, 'a device')));
  const say = async (n: number) => {
    expect(await phone.room().send({ type: 'head-count', n })).toEqual({ done: true });
    await Promise.all([screen, second].map((d) => d.until((r) => r.session?.headCount === n, `${n} heads`)));
  };
  expect(await phone.room().send({ type: 'start', plan: 'forty-twenty', freeAt: null })).toEqual({ done: true });
  await expect.poll(() => heard.filter((seq) => seq === 1).length, WAIT).toBe(2);
  await redis?.stop();
  await expect.poll(() => three.warnings.some((w) => w.startsWith('Redis is away')), WAIT).toBe(true);
  await say(7);
  await expect.poll(() => heard.filter((seq) => seq === 2), WAIT).toEqual([2]);
  await redis?.start();
  for (const s of [one, two, three]) await expect.poll(() => s.warnings.includes('Redis is back.'), WAIT).toBe(true);
  let n = 8;
  await expect.poll(async () => {
    n += 1;
    await say(n);
    const last = heard.at(-1);
    return heard.filter((seq) => seq === last).length;
  }, WAIT).toBe(2);
  expect((await two.studio.store.latest('garden')).map((row) => row.seq).length).toBe(phone.room().seq);
});

it.skipIf(!here)('K506 a code works once at whichever server it is typed; a room that is stopped is stopped on all; all know how many are there and what is laid out', async () => {
  const [one, two] = await servers(2);
  const screen = join(one.url, 'screen');
  const shown = (await screen.until((r) => Boolean(r.about?.pairing), 'a code')).about?.pairing?.code ?? '';
  const typed = (url: string) => fetch(`${url}/api/pair`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ code: shown }) });
  await expect.poll(async () => (await two.studio.store.chain?.entries('code/'))?.has(`code/${shown}`), WAIT).toBe(true);
  const answers = await Promise.all([two.url, one.url, two.url].map(typed));
  expect(answers.map((a) => a.status === 200).filter(Boolean)).toEqual([true]);
  const cookie = (answers.find((a) => a.ok)?.headers.get('set-cookie') ?? '').split(';')[0] ?? '';
  await screen.until((r) => r.about?.pairing?.code !== shown, 'another code');
  const phone = join(two.url, 'phone', cookie);
  await phone.until((r) => live(r) && r.about?.present.screens === 1, 'the screen of the other server');
  await screen.until((r) => r.about?.present.phones === 1, 'the phone of the other server');
  phone.room().choose('forty-twenty');
  await screen.until((r) => r.about?.chosen === 'forty-twenty', 'the plan that is laid out');
  expect(await phone.room().send({ type: 'stop' })).toEqual({ done: true });
  await screen.until((r) => r.about?.people.stop !== null, 'the stop');
  expect(await screen.room().send({ type: 'start', plan: 'forty-twenty', freeAt: null })).toMatchObject({ done: false, reason: 'stopped' });
  const later = await serve(newFolder(), { DATABASE_URL: one.studio.settings.database ?? '' });
  closing.push(later.close);
  expect(later.studio.hall('garden')?.core.beside()).not.toBeNull();
  expect(await phone.room().send({ type: 'to-paused' })).toEqual({ done: true });
  await screen.until((r) => r.about?.people.stop === null, 'the way back');
  await expect.poll(() => later.studio.hall('garden')?.core.beside(), WAIT).toBeNull();
  await one.close();
  await phone.until((r) => r.about?.present.screens === 0, 'that the screen has gone with its server');
});

it.skipIf(!here)('K507 servers of one log tell the same time, as near as they claim', async () => {
  const all = await servers(2);
  const read = () => all.map((s) => s.studio.clock.exact());
  for (let n = 0; n < 200; n += 1) {
    const from = performance.now();
    const [a = 0, b = 0] = read();
    const tookMs = performance.now() - from;
    const claimed = all.reduce((sum, s) => sum + ((s.studio.clock as { errorMs?: () => number | null }).errorMs?.() ?? 0), 0);
    expect(claimed).toBeGreaterThan(0);
    expect(Math.abs(a - b)).toBeLessThanOrEqual(claimed + tookMs + 0.01);
  }
  expect(new Set(all.map((s) => s.studio.clock.name)).size).toBe(2);
});

it('K508 an address of a Redis that is wrong is explained, without its password; one that does not answer is waited for', async () => {
  expect(readSettings({ DATABASE_URL: 'postgres://h/x', REDIS_URL: 'http://user:hush@h' })).toMatchObject({ wrong: [expect.stringMatching(/^REDIS_URL is not understood: it is no address of a Redis/)] });
  expect(readSettings({ REDIS_URL: 'redis://h' })).toMatchObject({ wrong: [expect.stringMatching(/^REDIS_URL is set and DATABASE_URL is not/)] });
  expect(readSettings({ HALLCLOCK_ADDRESS: 'http://clock.example/phone' })).toMatchObject({ wrong: [expect.stringMatching(/^HALLCLOCK_ADDRESS is .* it ends behind the name or the port/)] });
  expect(readSettings({ HALLCLOCK_ADDRESS: 'http://clock.example:8080' })).toMatchObject({ names: ['clock.example', 'hallclock.local'], address: { typed: 'clock.example:8080', origin: 'http://clock.example:8080' } });
  if (!here) return;
  const database = await engine?.database() ?? '';
  await expect(serve(newFolder(), { DATABASE_URL: database, REDIS_URL: redis?.url.replace('//', '//nobody:hush@') ?? '' })).rejects.toThrow(/^REDIS_URL cannot be used: Redis does not accept its user or password\. Leave REDIS_URL out/);
  const alone = await serve(newFolder(), { DATABASE_URL: database, REDIS_URL: `redis://127.0.0.1:${await freePort()}` });
  closing.push(alone.close);
  expect(alone.warnings.filter((w) => /does not answer.*is it started, and are host and port right/.test(w))).toHaveLength(1);
  const screen = join(alone.url, 'screen');
  await screen.until(live, 'a screen without Redis');
});
