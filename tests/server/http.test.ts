/** Owns the HTTP side of a real server, asked from outside. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { io } from 'socket.io-client';
import request from 'supertest';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { classBodySchema, classesSchema, healthSchema, movementsSchema, plansSchema } from '../../shared/wire/http.ts';
import { PROTOCOL } from '../../shared/wire/protocol.ts';
import { device, inside, live, newFolder, pair, serve } from './serve.ts';

let data = '';
let server: Awaited<ReturnType<typeof serve>>;
beforeEach(async () => {
  data = newFolder();
  server = await serve(data);
});
afterEach(() => server.close());

it('K14 health says version, uptime and whether the log can be written', async () => {
  const { body } = await request(server.url).get('/api/health').expect(200);
  expect(healthSchema.parse(body)).toMatchObject({ version: 'test', database: 'writable' });
});

it('K12 the demo studio has plans that can run, and a broken one of the studio is named beside them', async () => {
  mkdirSync(join(data, 'plans'));
  writeFileSync(join(data, 'plans', 'evening.json'), JSON.stringify({ format: 1, id: 'evening', name: 'Evening', sections: [{ id: 'a', kind: 'main', work: 40, reps: 3, items: [] }] }));
  const plans = plansSchema.parse((await request(server.url).get('/api/plans').expect(200)).body);
  expect(plans.plans.filter((p) => p.problem === null).length).toBeGreaterThanOrEqual(4);
  expect(plans.broken).toEqual([{ file: 'evening.json', path: 'sections[0]', error: expect.stringMatching(/^evening\.json, at sections\[0\]: .*reps/) }]);
  await request(server.url).get('/api/plans/forty-twenty').expect(200);
  await request(server.url).get('/api/plans/nothing').expect(404, { error: 'The studio has no such plan.' });
  expect((await request(server.url).get('/api/plans/evening').expect(422)).body).toMatchObject({ file: 'evening.json' });
  const movements = movementsSchema.parse((await request(server.url).get('/api/movements').expect(200)).body);
  expect(movements.movements.length).toBeGreaterThanOrEqual(24);
});

it('K9 the list of classes and the log of one', async () => {
  const screen = device(server.url, 'screen');
  const phone = device(server.url, 'phone', await pair(server.url, screen));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  await phone.until((r) => r.session !== null, 'the class');
  await phone.room().send({ type: 'head-count', n: 11 });
  await phone.room().send({ type: 'end' });
  const list = classesSchema.parse((await inside(server.url).get('/api/classes?limit=1').expect(200)).body);
  expect(list).toMatchObject({ before: null, classes: [{ plan: 'quarter-hour', how: 'ended', headCount: 11 }] });
  const log = classBodySchema.parse((await inside(server.url).get(`/api/classes/${list.classes[0]?.id}`).expect(200)).body);
  expect(log.events.map((e) => e.type)).toEqual(['started', 'counted-heads', 'ended']);
  await inside(server.url).get('/api/classes/none').expect(404);
  await inside(server.url).get('/api/classes?limit=1000').expect(400);
  screen.close();
  phone.close();
});

it('R5 the right code gives a cookie that no page can read and no other site sends; the log keeps only its hash', async () => {
  const screen = device(server.url, 'screen');
  const { about } = await screen.until((r) => Boolean(r.about?.pairing), 'the code');
  const answer = await request(server.url).post('/api/pair').send({ code: about?.pairing?.code }).expect(200, { room: 'garden' });
  const cookie = String(answer.headers['set-cookie']);
  expect(cookie).toMatch(/^hallclock=[\w-]{22}; Max-Age=\d+; Path=\/; Expires=[^;]+; HttpOnly; SameSite=Lax$/);
  const token = /hallclock=([\w-]+)/.exec(cookie)?.[1] ?? '';
  const [kept] = await server.studio.store.phones();
  expect(kept?.room).toBe('garden');
  expect(kept?.token).not.toContain(token);
  screen.close();
});

it('R2 a wrong code is refused in a sentence, then with the time to wait', async () => {
  await request(server.url).post('/api/pair').send({ code: '12345' }).expect(400);
  await request(server.url).post('/api/pair').type('text').send('{"code":"123456"}').expect(400);
  for (let i = 0; i < 5; i += 1) await request(server.url).post('/api/pair').send({ code: '000000' }).expect(403);
  const answer = await request(server.url).post('/api/pair').send({ code: '000000' }).expect(429);
  expect(answer.headers['retry-after']).toBe('1');
  expect(answer.body).toEqual({ error: 'Too many wrong codes. Wait 1 s, then try the code that is on the screen.' });
});

it('R4 the code is for screens only, and goes while the class works', async () => {
  const screen = device(server.url, 'screen');
  const phone = device(server.url, 'phone', await pair(server.url, screen));
  const desk = device(server.url, 'desk');
  await Promise.all([phone.until(live, 'the phone'), desk.until(live, 'the desk')]);
  expect([phone.room().about?.pairing, desk.room().about?.pairing]).toEqual([null, null]);
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  const waits = await screen.until((r) => r.session !== null && r.about?.present.phones === 1, 'the welcome');
  expect(waits.about?.pairing).not.toBeNull();
  const { id } = waits.session?.intervals[0] ?? {};
  await phone.room().send({ type: 'go', occurrence: `${id}~0` });
  await screen.until((r) => r.about?.pairing === null, 'no code');
  await phone.room().send({ type: 'pause', reason: 'question' });
  await screen.until((r) => r.about?.pairing != null, 'the code in the pause');
  for (const d of [screen, phone, desk]) d.close();
});

it("R6 another site's page cannot open a connection; answers forbid what is not from here", async () => {
  const foreign = io(server.url, { transports: ['websocket'], reconnection: false, extraHeaders: { origin: 'http://elsewhere.example' } });
  expect(await new Promise((resolve) => { foreign.on('connect', () => resolve('in')); foreign.on('connect_error', () => resolve('out')); })).toBe('out');
  const { headers } = await request(server.url).get('/api/health');
  expect(headers['content-security-policy']).toContain("default-src 'self';script-src 'self';");
  expect(headers['x-powered-by']).toBeUndefined();
});

it('W7 another version, another room, nonsense: each is told so', async () => {
  const socket = io(server.url, { transports: ['websocket'], forceNew: true });
  const ask = (name: string, message: unknown) => socket.emitWithAck(name, message);
  expect(await ask('join', { protocol: PROTOCOL + 1, role: 'screen', room: 'garden' })).toMatchObject({ refused: { sentence: expect.stringContaining('another version') } });
  expect(await ask('join', { protocol: PROTOCOL, role: 'screen', room: 'attic' })).toMatchObject({ refused: { sentence: expect.stringContaining('no room "attic"') } });
  expect(await ask('join', { role: 'boss' })).toMatchObject({ refused: { reason: 'bad-message' } });
  expect(await ask('command', {})).toMatchObject({ refused: { reason: 'not-allowed' }, snapshot: null });
  await ask('join', { protocol: PROTOCOL, role: 'screen', room: 'garden' });
  expect(await ask('command', { id: 'x', command: { type: 'explode' } })).toMatchObject({ refused: { reason: 'bad-message' } });
  socket.close();
});
