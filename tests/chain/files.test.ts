/** Holds what a studio keeps beside its log: the same promise on a disk and in PostgreSQL, and for two servers one studio. */
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { diskFiles, type StudioFiles } from '../../server/files/files.ts';
import { postgresStore } from '../../server/store/postgres.ts';
import type { PlanInput } from '../../shared/plan/plan.ts';
import type { ConflictBody, KeptBody } from '../../shared/wire/plans.ts';
import { device, live, newFolder, pair, serve } from '../server/serve.ts';
import { jpeg } from '../server/small-files.ts';
import { testPostgres } from './postgres.ts';
import { comeIn } from './two-studios.ts';

const engine = await testPostgres();
const closing: (() => unknown)[] = [];
afterEach(async () => { for (const close of closing.splice(0).reverse()) await close(); });
afterAll(() => engine?.close());

/** Two who keep the same files; over one database from two servers. */
const kinds: readonly [string, () => Promise<readonly [StudioFiles, StudioFiles]>][] = [
  ['on a disk', async () => {
    const files = diskFiles(newFolder());
    return [files, files];
  }],
  ...(engine ? [['in PostgreSQL', async () => {
    const url = await engine.database();
    const stores = [await postgresStore(url, () => {}), await postgresStore(url, () => {})] as const;
    for (const store of stores) closing.push(() => store.stop());
    return stores.map(({ files }) => {
      if (!files) throw new Error('no files');
      return files;
    }) as unknown as readonly [StudioFiles, StudioFiles];
  }] satisfies [string, unknown]] : []),
];

describe.each(kinds)('K515 files %s', (_name, open) => {
  it('K515 come back as they were written, with another stamp each time, and are gone when they are taken away', async () => {
    const [files, other] = await open();
    expect([await files.list('plans'), await files.read('plans', 'one.json'), await files.place('plans', 'one.json')]).toEqual([[], null, null]);
    await files.write('plans', 'one.json', 'ä');
    await files.write('plans/.bin', 'one.json', Buffer.from([0, 255, 7]));
    await files.write('', 'one.json', '');
    const [first] = await other.list('plans');
    expect(first).toMatchObject({ name: 'one.json', bytes: 2 });
    expect([(await other.read('plans', 'one.json'))?.toString(), [...await other.read('plans/.bin', 'one.json') ?? []], (await other.read('', 'one.json'))?.length]).toEqual(['ä', [0, 255, 7], 0]);
    expect((await other.list('')).map((f) => f.name)).toEqual(['one.json']);
    await files.write('plans', 'one.json', 'another');
    expect((await other.list('plans'))[0]?.stamp).not.toBe(first?.stamp);
    expect((await readFile(await other.place('plans', 'one.json') ?? '')).toString()).toBe('another');
    await files.remove('plans', 'one.json');
    await files.remove('plans', 'never.json');
    expect([await other.list('plans'), await other.read('plans', 'one.json')]).toEqual([[], null]);
  });

  it('K516 whoever writes alone reads what the one before wrote, however many come at once', async () => {
    const both = await open();
    await Promise.all(Array.from({ length: 40 }, (_, k) => both[k % 2]?.alone(async (files) => {
      const n = Number((await files.read('', 'count'))?.toString() ?? '0');
      await new Promise((done) => { setTimeout(done, k % 3); });
      await files.write('', 'count', String(n + 1));
    })));
    expect((await both[0].read('', 'count'))?.toString()).toBe('40');
    // One who fails holds up nobody.
    await expect(both[0].alone(async () => { throw new Error('not this'); })).rejects.toThrow('not this');
    await both[1].alone((files) => files.write('', 'count', '41'));
    expect((await both[0].read('', 'count'))?.toString()).toBe('41');
  });
});

const plan = (id: string, name: string, work = 40): PlanInput => ({ format: 1, id, name, sections: [{ id: 'main', kind: 'main', work, items: [{ movement: 'squat' }] }] });
const PASSWORD = 'gravel-lantern-otter';
interface Server { readonly url: string; readonly close: () => Promise<void>; readonly warnings: string[] }
async function server(database: string, data = newFolder()): Promise<Server> {
  const made = await serve(data, { DATABASE_URL: database, HALLCLOCK_PASSWORD: PASSWORD }, { firstStart: true });
  closing.push(made.close);
  return made;
}
const desk = async ({ url }: Server): Promise<string> => ((await comeIn(url, PASSWORD)).headers.get('set-cookie') ?? '').split(';')[0] ?? '';
async function ask<T>(at: Server, cookie: string, method: string, path: string, body?: object | Buffer): Promise<{ status: number; body: T }> {
  const raw = body instanceof Buffer;
  const answer = await fetch(`${at.url}${path}`, { method, headers: { cookie, ...(body ? { 'content-type': raw ? 'application/octet-stream' : 'application/json' } : {}) }, ...(body ? { body: raw ? new Uint8Array(body) : JSON.stringify(body) } : {}) });
  return { status: answer.status, body: (answer.headers.get('content-type')?.includes('json') ? await answer.json() : await answer.arrayBuffer()) as T };
}

describe.skipIf(!engine)('two servers of one studio', () => {
  it('K517 have one set of plans, movements, pictures, one timetable and one desk', async () => {
    const database = await engine?.database() ?? '';
    const [one, two] = [await server(database), await server(database)];
    const cookie = await desk(one);
    // Who is in at one is in at the other at once; who goes out is out.
    expect((await ask(two, cookie, 'GET', '/api/desk')).body).toMatchObject({ in: true, withPassword: true });
    expect((await ask(one, cookie, 'POST', '/api/plans', plan('dawn', 'Dawn'))).status).toBe(201);
    expect((await ask<{ plans: { id: string }[] }>(two, cookie, 'GET', '/api/plans')).body.plans.map((p) => p.id)).toContain('dawn');
    expect((await ask(two, cookie, 'POST', '/api/plans', plan('dawn', 'Dawn too'))).status).toBe(409);
    const { body: { entries: _none, ...timetable } } = await ask<{ revision: string; entries: object[] }>(two, cookie, 'GET', '/api/timetable');
    const entries = [{ id: 'monday', plan: 'dawn', room: 'garden', day: '2026-01-05', at: '18:00', minutes: 45, weekly: true }];
    expect((await ask(two, cookie, 'PUT', '/api/timetable', { base: timetable.revision, entries })).status).toBe(200);
    expect((await ask(one, cookie, 'PUT', '/api/timetable', { base: timetable.revision, entries: [] })).status).toBe(409);
    const { body: { movements } } = await ask<{ movements: Record<string, unknown>[] }>(one, cookie, 'GET', '/api/movements');
    const { figure: _figure, ...squat } = movements.find((m) => m.id === 'squat') ?? {};
    expect((await ask(one, cookie, 'POST', '/api/movements', { ...squat, id: 'own-squat', name: 'Own squat' })).status).toBe(201);
    expect((await ask(two, cookie, 'PUT', '/api/movements/own-squat/picture', jpeg)).status).toBe(200);
    const shown = await ask<ArrayBuffer>(one, cookie, 'GET', '/pictures/own-squat.jpg');
    expect([shown.status, Buffer.from(shown.body).equals(jpeg)]).toEqual([200, true]);
    expect((await ask(one, cookie, 'PUT', '/api/emergency', { address: 'Reed Lane 14' })).status).toBe(200);
    await expect.poll(async () => (await ask(two, cookie, 'GET', '/api/emergency')).body).toMatchObject({ address: 'Reed Lane 14' });
    await Promise.all([ask(one, cookie, 'PUT', '/api/plans/dawn/cover', { note: 'The key is with the baker.' }), ask(two, cookie, 'PUT', '/api/plans/forty-twenty/cover', { note: 'Quietly.' })]);
    await expect.poll(async () => Promise.all([one, two].map(async (s) => (await ask<{ note: string }>(s, cookie, 'GET', '/api/plans/dawn/cover')).body.note))).toEqual(Array(2).fill('The key is with the baker.'));
    await expect.poll(async () => (await ask<{ note: string }>(one, cookie, 'GET', '/api/plans/forty-twenty/cover')).body.note).toBe('Quietly.');
    expect((await ask(two, cookie, 'POST', '/api/desk/out')).status).toBe(200);
    await expect.poll(async () => (await ask(one, cookie, 'GET', '/api/desk')).body).toMatchObject({ in: false });
  });

  it('K518 two who change a plan through two servers at once lose nothing: what fits is brought together, what does not is asked', async () => {
    const database = await engine?.database() ?? '';
    const [one, two] = [await server(database), await server(database)];
    const cookie = await desk(one);
    const { body: { revision: base } } = await ask<KeptBody>(one, cookie, 'POST', '/api/plans', plan('dawn', 'Dawn'));
    const put = (at: Server, sent: PlanInput, from = base) => ask<KeptBody & ConflictBody>(at, cookie, 'PUT', '/api/plans/dawn', { base: from, plan: sent });
    const fits = await Promise.all([put(one, plan('dawn', 'Early')), put(two, plan('dawn', 'Dawn', 50))]);
    expect(fits.map((a) => a.status)).toEqual([200, 200]);
    const { body: { plan: both, revision } } = await ask<KeptBody>(one, cookie, 'GET', '/api/plans/dawn/kept');
    expect(both).toMatchObject({ name: 'Early', sections: [{ work: 50 }] });
    const clash = await Promise.all([put(one, plan('dawn', 'Left', 50), revision), put(two, plan('dawn', 'Right', 50), revision)]);
    expect(clash.map((a) => a.status).sort()).toEqual([200, 409]);
    const { body: { versions } } = await ask<{ versions: { name: string }[] }>(two, cookie, 'GET', '/api/plans/dawn/versions');
    expect(versions.map((v) => v.name)).toEqual(expect.arrayContaining(['Left', 'Right', 'Early']));
  });

  it('K519 what a studio had in its data folder is there at its first start with a database, once; the folder stays as it is', async () => {
    const database = await engine?.database() ?? '';
    const data = newFolder();
    mkdirSync(join(data, 'plans/.bin'), { recursive: true });
    writeFileSync(join(data, 'plans/dawn.json'), JSON.stringify(plan('dawn', 'Dawn')));
    writeFileSync(join(data, 'plans/.bin/1764090000000-dusk.json'), JSON.stringify(plan('dusk', 'Dusk')));
    writeFileSync(join(data, 'emergency.json'), '{"address":"Reed Lane 14"}');
    const one = await server(database, data);
    const cookie = await desk(one);
    expect((await ask<{ plans: { id: string }[] }>(one, cookie, 'GET', '/api/plans')).body.plans.map((p) => p.id)).toContain('dawn');
    expect((await ask<{ plans: { id: string }[] }>(one, cookie, 'GET', '/api/bin')).body.plans.map((p) => p.id)).toEqual(['dusk']);
    expect((await ask(one, cookie, 'GET', '/api/emergency')).body).toMatchObject({ address: 'Reed Lane 14' });
    expect((await ask(one, cookie, 'DELETE', '/api/plans/dawn')).status).toBe(200);
    closing.pop();
    await one.close();
    const again = await server(database, data);
    expect((await ask<{ plans: { id: string }[] }>(again, cookie, 'GET', '/api/plans')).body.plans.map((p) => p.id)).not.toContain('dawn');
    expect(readdirSync(join(data, 'plans'))).toContain('dawn.json');
  });

  it('K566 while PostgreSQL is away plans and movements are still known, and what is to be kept is refused with the reason; afterwards it is kept', async () => {
    const database = await engine?.database() ?? '';
    const one = await server(database);
    const cookie = await desk(one);
    const { body: { revision: base } } = await ask<KeptBody>(one, cookie, 'POST', '/api/plans', plan('dawn', 'Dawn'));
    const screen = device(one.url, 'screen');
    closing.push(screen.close);
    const phone = device(one.url, 'phone', await pair(one.url, screen));
    closing.push(phone.close);
    await phone.until(live, 'the phone');
    await ask(one, cookie, 'GET', '/api/plans');
    await engine?.stop();
    closing.push(async () => { await engine?.start(); });
    expect((await ask<{ plans: { id: string }[] }>(one, cookie, 'GET', '/api/plans')).body.plans.map((p) => p.id)).toContain('dawn');
    expect((await ask<{ movements: { id: string }[] }>(one, cookie, 'GET', '/api/movements')).body.movements.map((m) => m.id)).toContain('squat');
    expect(await phone.room().send({ type: 'start', plan: 'dawn', freeAt: null })).toMatchObject({ done: false, reason: 'not-stored' });
    for (const [method, path, body] of [['PUT', '/api/plans/dawn', { base, plan: plan('dawn', 'Late') }], ['PUT', '/api/emergency', { address: 'x' }], ['GET', '/api/plans/dawn/versions', undefined], ['GET', '/api/classes', undefined], ['GET', '/api/timetable', undefined]] as const) {
      const refused = await ask<{ error: string }>(one, cookie, method, path, body);
      expect([path, refused.status, refused.body.error]).toEqual([path, 503, expect.stringContaining('database does not answer')]);
    }
    closing.pop();
    await engine?.start();
    await expect.poll(async () => (await ask(one, cookie, 'PUT', '/api/plans/dawn', { base, plan: plan('dawn', 'Late') })).status, { timeout: 30_000, interval: 500 }).toBe(200);
    expect((await ask<KeptBody>(one, cookie, 'GET', '/api/plans/dawn/kept')).body.plan.name).toBe('Late');
  });
});
