/** Holds the description of the HTTP interface against the real server: every route is in it, and every answer is as it says. */
import { kept } from '../../server/access/password.ts';
import { earlierStart } from '../inside.ts';
import { copyFileSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import request, { type Response } from 'supertest';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { z } from 'zod';
import { device, type Device, inside, live, newFolder, pair, serve } from './serve.ts';
import { noteRoutes } from './routes.ts';
import { jpeg } from './small-files.ts';

interface Operation { readonly responses: Record<string, { readonly content?: Record<string, { readonly schema: object }> }>; readonly requestBody?: { readonly content: Record<string, { readonly schema: object }> } }
interface Description { readonly paths: Record<string, Record<string, Operation>>; readonly components: { readonly schemas: object } }

let server: Awaited<ReturnType<typeof serve>>;
let phone: Device;
let screen: Device;
let described: Description;
const noted = noteRoutes();
beforeAll(async () => {
  const data = newFolder();
  mkdirSync(join(data, 'music'));
  copyFileSync(join(import.meta.dirname, '../../media/sounds/room-0.wav'), join(data, 'music', 'one.wav'));
  earlierStart(data, await kept('quince-and-thyme'));
  server = await serve(data);
  noted.stop();
  screen = device(server.url, 'screen');
  phone = device(server.url, 'phone', await pair(server.url, screen));
  await phone.until(live, 'the phone');
  described = (await request(server.url).get('/api/openapi.json').expect(200)).body as Description;
}, 60_000);
afterAll(async () => {
  phone.close();
  screen.close();
  await server.close();
});

const operations = (): string[] => Object.entries(described.paths).flatMap(([path, methods]) => Object.keys(methods).map((m) => `${m.toUpperCase()} ${path}`)).sort();
const readers = new Map<string, z.ZodType>();
/** Reading a schema takes long: each once, and with the shared ones only where it names them. */
function readerOf(schema: object): z.ZodType {
  const text = JSON.stringify(schema);
  const known = readers.get(text) ?? z.fromJSONSchema(JSON.parse(JSON.stringify({ ...schema, ...(text.includes('#/components') ? { $defs: described.components.schemas } : {}) }).replaceAll('#/components/schemas/', '#/$defs/')));
  readers.set(text, known);
  return known;
}

const asked = new Set<string>();
/** Asks for real, and holds the answer against what is described for its status. */
async function ask(what: string, at: string, { status = 200, body, bytes }: { status?: number; body?: object; bytes?: Buffer } = {}): Promise<Response> {
  const [method = '', path = ''] = what.split(' ');
  const agent = inside(server.url)[method.toLowerCase() as 'get'](at);
  const answer = await (bytes ? agent.set('content-type', 'application/octet-stream').send(bytes) : body ? agent.send(body) : agent);
  const place = `${what} ${answer.status}`;
  expect(answer.status, `${place} ${JSON.stringify(answer.body).slice(0, 200)}`).toBe(status);
  const says = described.paths[path]?.[method.toLowerCase()];
  const content = says?.responses[String(status)]?.content;
  expect(says?.responses[String(status)], place).toBeDefined();
  const type = String(answer.headers['content-type']).split(';')[0] ?? '';
  if (content) expect(Object.keys(content).some((c) => c === type || c === '*/*' || c === `${type.split('/')[0]}/*`), `${place} is ${type}`).toBe(true);
  const schema = content?.['application/json']?.schema;
  if (schema) {
    const parsed = readerOf(schema).safeParse(answer.body);
    expect(parsed.success ? [] : parsed.error.issues.slice(0, 3), place).toEqual([]);
  }
  const sends = says?.requestBody?.content['application/json']?.schema;
  if (sends && status < 300) expect(readerOf(sends).safeParse(body).success, `${what}: what is sent`).toBe(true);
  if (status < 300) asked.add(what);
  return answer;
}

it('P330 every route that the server has is described, and nothing else', () => {
  const real = noted.found('/api/health');
  expect(real.length).toBeGreaterThan(40);
  expect(operations()).toEqual(real);
});

it('P331 what every described route really answers is what is said of it', async () => {
  for (const path of ['/api/health', '/metrics', '/api/desk', '/api/desk/devices', '/api/emergency', '/api/music', '/api/plans', '/api/bin', '/api/movements', '/api/timetable', '/api/timetable.ics', '/api/schemas/plan-1.json', '/api/openapi.json', '/api/live', '/api/chain', '/api/chain/conflicts']) {
    await ask(`GET ${path}`, path);
  }
  await ask('GET /music/{file}', '/music/one.wav');
  await ask('PUT /api/emergency', '/api/emergency', { body: { ...(await ask('GET /api/emergency', '/api/emergency')).body, number: '112' } });

  const plan = (await ask('GET /api/plans/{id}', '/api/plans/quarter-hour')).body;
  await ask('POST /api/plans', '/api/plans', { status: 201, body: { ...plan, id: 'mine', name: 'Mine' } });
  await ask('POST /api/plans', '/api/plans', { status: 409, body: { ...plan, id: 'mine' } });
  await ask('POST /api/plans', '/api/plans', { status: 400, body: {} });
  const { revision, plan: kept } = (await ask('GET /api/plans/{id}/kept', '/api/plans/mine/kept')).body;
  await ask('PUT /api/plans/{id}', '/api/plans/mine', { body: { base: revision, plan: { ...kept, name: 'Mine too' } } });
  await ask('PUT /api/plans/{id}', '/api/plans/mine', { status: 409, body: { base: revision, plan: { ...kept, name: 'Mine as well' } } });
  for (const part of ['shows', 'file', 'cover'] as const) await ask(`GET /api/plans/{id}/${part}`, `/api/plans/mine/${part}`);
  await ask('PUT /api/plans/{id}/cover', '/api/plans/mine/cover', { body: { note: 'The key is with Mo.' } });
  const { versions } = (await ask('GET /api/plans/{id}/versions', '/api/plans/mine/versions')).body as { versions: { revision: string }[] };
  await ask('GET /api/plans/{id}/versions/{revision}', `/api/plans/mine/versions/${versions[0]?.revision}`);
  await ask('POST /api/plans/{id}/editing', '/api/plans/mine/editing', { body: { editor: '8a6f1d5e-3c1b-4f0a-9b3e-2d4c5b6a7f80' } });
  const { file } = (await ask('DELETE /api/plans/{id}', '/api/plans/mine')).body;
  await ask('POST /api/bin/{file}/back', `/api/bin/${file}/back`);
  await ask('GET /api/plans/{id}', '/api/plans/none', { status: 404 });

  const { movements } = (await ask('GET /api/movements', '/api/movements')).body as { movements: Record<string, unknown>[] };
  const { figure: _figure, ...squat } = movements.find((m) => m.id === 'squat') ?? {};
  await ask('POST /api/movements', '/api/movements', { status: 201, body: { ...squat, id: 'our-squat', name: 'Our squat' } });
  const { picture } = (await ask('PUT /api/movements/{id}/picture', '/api/movements/our-squat/picture', { bytes: jpeg })).body;
  await ask('PUT /api/movements/{id}/picture', '/api/movements/our-squat/picture', { status: 415, bytes: Buffer.from('none') });
  await ask('GET /pictures/{file}', `/pictures/${picture.file}`);

  const { revision: base } = (await ask('GET /api/timetable', '/api/timetable')).body;
  await ask('PUT /api/timetable', '/api/timetable', { body: { base, entries: [{ id: 'mon', plan: 'quarter-hour', room: 'garden', day: '2026-01-05', at: '18:00', minutes: 45, weekly: true }] } });
  await ask('PUT /api/timetable', '/api/timetable', { status: 409, body: { base, entries: [] } });
  await ask('GET /api/rooms/{id}/due', '/api/rooms/garden/due');
  await ask('POST /api/chain/settle', '/api/chain/settle', { status: 400, body: { kind: 'all' } });
  await ask('POST /api/chain/settle', '/api/chain/settle', { status: 404, body: { kind: 'line', id: 'mon', ours: null, theirs: null, whose: 'ours' } });

  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  const id = (await phone.until((r) => r.session !== null, 'the class')).session?.id ?? '';
  await ask('GET /api/live', '/api/live');
  await phone.room().send({ type: 'note', text: 'Two new.' });
  await phone.room().send({ type: 'pause', reason: 'water' });
  await ask('GET /api/classes/{id}', `/api/classes/${id}`);
  await ask('POST /api/answers/{id}', `/api/answers/${id}`, { status: 409, body: { rating: 5 } });
  await phone.room().send({ type: 'end' });
  await ask('GET /api/answers/{id}', `/api/answers/${id}`);
  await ask('POST /api/answers/{id}', `/api/answers/${id}`, { body: { rating: 5 } });
  await expect.poll(async () => (await ask('GET /api/classes/{id}/record', `/api/classes/${id}/record`)).body.record?.id, { timeout: 30_000 }).toBe(id);
  await ask('GET /api/classes', '/api/classes?limit=5');
  await ask('GET /api/classes/{id}', `/api/classes/${id}`);
  for (const end of ['csv', 'json']) {
    await ask(`GET /api/classes/{id}/class.${end}`, `/api/classes/${id}/class.${end}`);
    await ask(`GET /api/export.${end}`, `/api/export.${end}?from=2020-01-01&to=2099-01-01`);
  }
  await ask('GET /api/review', '/api/review?from=2020-01-01');
  await ask('GET /api/review', '/api/review?from=2020-13-01', { status: 400 });
  await ask('DELETE /api/classes/{id}', `/api/classes/${id}`, { status: 409 });
  // A class that is no longer on its screen: one more is started in its place.
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  await phone.until((r) => r.session !== null && r.session.id !== id, 'the next class');
  await ask('DELETE /api/classes/{id}', `/api/classes/${id}`);

  const code = (await screen.until((r) => Boolean(r.about?.pairing), 'a pairing code')).about?.pairing?.code ?? '';
  await ask('POST /api/pair', '/api/pair', { body: { code } });
  await ask('POST /api/pair', '/api/pair', { status: 403, body: { code: code === '000000' ? '000001' : '000000' } });
  const { phones } = (await ask('GET /api/desk/devices', '/api/desk/devices')).body as { phones: { id: string }[] };
  await ask('POST /api/desk/revoke', '/api/desk/revoke', { body: { kind: 'phone', id: phones.at(-1)?.id } });
  const { status } = await inside(server.url).get('/api/home.html');
  // Where nothing was built there is nothing to take home, which is described too.
  await ask('GET /api/home.html', '/api/home.html', { status });
  asked.add('GET /api/home.html');
  await ask('PUT /api/desk/password', '/api/desk/password', { status: 403, body: { old: 'thyme-and-quince', password: 'quince-apple-pear' } });
  await ask('PUT /api/desk/password', '/api/desk/password', { body: { old: 'quince-and-thyme', password: 'quince-apple-pear' } });
  await ask('POST /api/desk/in', '/api/desk/in', { body: { password: 'quince-apple-pear' } });
  await ask('POST /api/desk/in', '/api/desk/in', { status: 403, body: { password: 'quince-apple-plum' } });
  await ask('POST /api/desk/out', '/api/desk/out');
  await ask('GET /api/review', '/api/review', { status: 403 });
  // Settling what a chain and a studio both changed needs both: tests/chain/down-servers.test.ts does.
  expect([...asked, 'POST /api/chain/settle'].sort()).toEqual(operations());
}, 120_000);
