/**
 * Holds two whole studios apart that share a PostgreSQL and a Redis: south is asked for everything of north, over every
 * route that the server has and every message that a device may say, made from the schemas; what is new is tried by itself.
 */
import { randomUUID } from 'node:crypto';
import type { Socket } from 'socket.io-client';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { openRedis } from '../../server/chain/redis.ts';
import { PAIRING_FREE_TRIES } from '../../shared/limits.ts';
import { chooseSchema } from '../../shared/wire/messages/choose.ts';
import { commandMessageSchema } from '../../shared/wire/messages/command.ts';
import { joinSchema } from '../../shared/wire/messages/join.ts';
import { soundSaySchema } from '../../shared/wire/messages/sound.ts';
import { tellSchema } from '../../shared/wire/messages/tell.ts';
import { PROTOCOL } from '../../shared/wire/protocol.ts';
import type { ToServer } from '../../shared/wire/to-server.ts';
import { connect } from '../bench/server.ts';
import { noteRoutes } from '../server/routes.ts';
import { made } from './made.ts';
import { testPostgres } from './postgres.ts';
import { testRedis } from './redis.ts';
import { CANARY, comeIn, OF_SOUTH, ONLY_NORTH, PASSWORDS, planNamed, ROOM, type TwoStudios, twoStudios } from './two-studios.ts';

const engine = await testPostgres();
const redis = await testRedis();
const closing: (() => unknown)[] = [];
afterEach(async () => { for (const close of closing.splice(0).reverse()) await close(); });
afterAll(async () => { await redis?.stop(); await engine?.close(); });
const WAIT = { timeout: 30_000, interval: 50 };

interface Operation { readonly security?: readonly object[]; readonly requestBody?: { readonly content: Record<string, { readonly schema: object }> } }
interface Description { readonly paths: Record<string, Record<string, Operation>>; readonly components: { readonly schemas: object } }

/** Every message of a device: one that is new does not compile until its schema stands here. */
const messages: { readonly [K in keyof ToServer]: z.ZodType | null } = { join: joinSchema, sample: null, choose: chooseSchema, sound: soundSaySchema, tell: tellSchema, command: commandMessageSchema };

const says = Object.entries(messages).map(([name, schema]) => ({ name: name as keyof ToServer, schema, described: schema && z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as object })).filter(({ name }) => name !== 'join');

/** Holds every answer to it that nothing of north is in it but what was sent. */
function watch(ids: readonly string[]) {
  let sent = '';
  return {
    sends: (text: string) => { sent += `${text}\n`; },
    hears: (what: string, text: string) => {
      expect(text, what).not.toContain(CANARY);
      for (const id of ids) if (!sent.includes(id)) expect(text, `${what}: ${id}`).not.toContain(id);
    },
  };
}

async function everyRoute({ north, south, ids }: TwoStudios, routes: readonly string[]): Promise<void> {
  const { url } = south.server;
  const described = await (await fetch(`${url}/api/openapi.json`)).json() as Description;
  const { movements } = await (await fetch(`${url}/api/movements`)).json() as { movements: { id: string; figure?: unknown }[] };
  const { figure: _figure, ...squat } = movements.find((m) => m.id === 'squat') ?? {};
  const { sends, hears } = watch(ids);
  const understood = new Map<string, boolean>();
  let own = `${south.desk}; ${south.phone}`;
  const ask = async (what: string, cookie: string, word: string): Promise<void> => {
    const [method = '', path = ''] = what.split(' ');
    const operation = described.paths[path]?.[method.toLowerCase()];
    expect(operation, `${what} is not described`).toBeDefined();
    const content = operation?.requestBody?.content;
    const schema = content?.['application/json']?.schema;
    const whole = (name: string) => (name.startsWith('Plan') ? planNamed(/^[a-z0-9-]+$/.test(word) ? word : 'some-plan', OF_SOUTH) : { ...squat, id: 'squat-of-north', name: OF_SOUTH });
    const bodies = schema ? made(schema, { words: [word, ...ids], whole }).map((b) => JSON.stringify(b)) : [content ? 'some bytes' : undefined];
    // Where a route has two names, the second is each of the others.
    const at = path.replace(/\{\w+\}/, word).replace(/\{revision\}/, ids.find((id) => /^[a-f0-9]{16}$/.test(id)) ?? word);
    for (const body of bodies) {
      sends(`${at} ${body ?? ''}`);      const answer = await fetch(`${url}${at}`, { method, headers: { cookie, ...(body === undefined ? {} : { 'content-type': schema ? 'application/json' : 'application/octet-stream' }) }, ...(body === undefined ? {} : { body }) });
      const bytes = await answer.text();
      const place = `${method} ${at} ${answer.status}`;
      hears(place, `${bytes} ${[...answer.headers].join(' ')}`);
      expect(answer.status, `${place} ${bytes.slice(0, 200)}`).not.toBe(500);
      if (path.includes('{file}')) expect(answer.status, place).toBe(cookie === own || method === 'GET' ? 404 : 403);
      // Who is in at north is nobody here.
      if (cookie !== own && !operation?.security?.some((way) => Object.keys(way).length === 0)) expect(answer.status, place).toBe(403);
      if (cookie === own && schema) understood.set(what, (understood.get(what) ?? false) || answer.status !== 400);
    }
    if (path === '/api/desk/out') own = `${(await comeIn(url, PASSWORDS.south)).headers.getSetCookie()[0]?.split(';')[0]}; ${south.phone}`;
  };
  const tried = new Set<string>();
  const words = [...ids, ROOM];
  // Reading before writing: south has nothing yet that was written with north's names.
  for (const what of [...routes.filter((r) => r.startsWith('GET')), ...routes.filter((r) => !r.startsWith('GET')), ...routes.filter((r) => r.startsWith('GET'))]) {
    const several = what.includes('{') || described.paths[what.split(' ')[1] ?? '']?.[what.split(' ')[0]?.toLowerCase() ?? '']?.requestBody;
    for (const who of ['north', 'south'] as const) for (const word of several ? words : words.slice(0, 1)) await ask(what, who === 'north' ? `${north.desk}; ${north.phone}` : own, word);
    tried.add(what);
  }
  expect([...tried].sort()).toEqual([...routes].sort());
  expect([...understood].filter(([, was]) => !was).map(([what]) => what), 'bodies that were made and not understood').toEqual([]);
}

const heardBy = async (url: string, cookie: string) => {
  const socket = await connect(url, { extraHeaders: { cookie } });
  closing.push(() => socket.disconnect());
  const heard: string[] = [];
  socket.onAny((...all: unknown[]) => { heard.push(JSON.stringify(all)); });
  return { socket, heard, join: (role: string, room = ROOM) => socket.emitWithAck('join', { protocol: PROTOCOL, role, room }) as Promise<Record<string, unknown>> };
};

async function everyMessage({ north, south, ids }: TwoStudios, state: string): Promise<void> {
  const { url } = south.server;
  const { sends, hears } = watch(ids);
  const say = async (who: string, socket: Socket, name: keyof ToServer, body?: unknown): Promise<void> => {
    const text = JSON.stringify(body) ?? '';
    sends(text);
    const answer: unknown = name === 'choose' ? socket.emit(name, body) && null : await (body === undefined ? socket.emitWithAck(name) : socket.emitWithAck(name, body));
    hears(`${who}, ${state}: ${name} ${text}`, JSON.stringify(answer));
    expect(answer, name).not.toMatchObject({ refused: { reason: 'busy' } });
  };
  const joined: [who: string, cookie: string, role: string, room: string, letIn: boolean][] = [
    ['a phone of north', `${north.desk}; ${north.phone}`, 'phone', ROOM, false],
    ['a phone of north in a room of north', north.phone, 'phone', ONLY_NORTH, false],
    ['a screen in a room of north', '', 'screen', ONLY_NORTH, false],
    ['a screen', '', 'screen', ROOM, true],
    ['a desk', north.desk, 'desk', ROOM, true],
    ['a phone of south', south.phone, 'phone', ROOM, true],
  ];
  for (const [who, cookie, role, room, letIn] of joined) {
    // A connection may say so much at once: each word has its own.
    for (const word of letIn && role !== 'desk' ? [...ids, ROOM] : ids.slice(0, 2)) {
      const { socket, heard, join } = await heardBy(url, cookie);
      sends(room);
      const answer = await join(role, room);
      expect('snapshot' in answer, who).toBe(letIn);
      hears(who, JSON.stringify(answer));
      for (const { name, schema, described } of says) {
        for (const body of described ? made(described, { words: [word, ...ids], whole: () => null }) : [undefined]) {
          // A command is known by its id: each is a new one, or it would be taken for a retry.
          const asked = name === 'command' ? { ...body as object, id: randomUUID() } : body;
          if (schema) expect(schema.safeParse(asked).success, `${name} ${JSON.stringify(asked)}`).toBe(true);
          await say(who, socket, name, asked);
        }
      }
      for (const one of heard) hears(`${who} hears`, one);
      socket.disconnect();
    }
  }
}

const ready = engine !== null && redis !== null;
describe.skipIf(!ready)('studios apart, whole', () => {
  it.each([['both walls', true], ['row security taken out', false]] as const)('K523 with %s: south is asked over every route and says every message with north\'s cookies and ids; nothing of north is answered, told or changed', async (_which, walled) => {
    const noted = noteRoutes();
    const both = await twoStudios(await engine?.database() ?? '', redis?.url ?? '', closing, walled);
    noted.stop();
    const { north, south } = both;
    const routes = noted.found('/api/health');
    expect(routes.length).toBeGreaterThan(40);
    const [ear, phone] = [await heardBy(north.server.url, ''), await heardBy(north.server.url, north.phone)];
    await ear.join('screen');
    await phone.join('phone');
    const before = await both.ofNorth();
    // What is looked for is there to be found.
    expect(JSON.stringify(before)).toContain(CANARY);
    if (!walled) await everyMessage(both, 'no class');
    await everyRoute(both, routes);
    expect(await south.hand.room().send({ type: 'start', plan: 'forty-twenty', freeAt: null })).toEqual({ done: true });
    await everyMessage(both, 'a class runs');
    expect(await both.ofNorth()).toEqual(before);
    expect([...ear.heard, ...phone.heard].filter((text) => !text.startsWith('["presence"') || text.includes(OF_SOUTH))).toEqual([]);
  }, 240_000);

  it('K524 what happens in a room of north is on no stream of south, and no device or server of south hears it; in the same room of south everything goes on', async () => {
    const both = await twoStudios(await engine?.database() ?? '', redis?.url ?? '', closing);
    const { north, south, alsoSouth } = both;
    const ear = await heardBy(alsoSouth.url, '');
    await ear.join('screen');
    const heard: unknown[] = [];
    for (const server of [south.server, alsoSouth]) server.studio.talk?.listen((message) => { heard.push(message); });
    const send = north.hand.room().send;
    for (const text of [CANARY, `${CANARY} again`]) expect(await send({ type: 'note', text })).toEqual({ done: true });
    expect(await send({ type: 'end' })).toEqual({ done: true });
    const { socket } = await heardBy(north.server.url, north.phone);
    await socket.emitWithAck('join', { protocol: PROTOCOL, role: 'phone', room: ROOM });
    socket.emit('choose', { plan: 'winter-of-north' });
    await socket.emitWithAck('sound', { do: 'ring', kind: 'finish' });
    // South's own comes by the same ways, after it.
    expect(await south.hand.room().send({ type: 'start', plan: 'forty-twenty', freeAt: null })).toEqual({ done: true });
    expect(await south.hand.room().send({ type: 'note', text: OF_SOUTH })).toEqual({ done: true });
    await expect.poll(() => ear.heard.filter((text) => text.startsWith('["news"') && text.includes(OF_SOUTH)).length, WAIT).toBeGreaterThan(0);
    expect(ear.heard.join()).not.toContain(CANARY);
    expect(JSON.stringify(heard)).not.toMatch(/of-north|"play"/);
    const streams = Object.values(await both.streams());
    expect(streams.some((text) => text.includes(CANARY))).toBe(true);
    expect(streams.some((text) => text.includes(OF_SOUTH))).toBe(true);
    expect(streams.filter((text) => text.includes(CANARY) && text.includes(OF_SOUTH))).toEqual([]);
    // While the database is away servers talk through Redis.
    const [one, two, other] = [await openRedis(redis?.url ?? '', () => {}, 'north'), await openRedis(redis?.url ?? '', () => {}, 'north'), await openRedis(redis?.url ?? '', () => {}, 'south')];
    closing.push(() => Promise.all([one, two, other].map((r) => r.close())));
    const said: Record<'north' | 'south', string[]> = { north: [], south: [] };
    two.heard((text) => said.north.push(text));
    other.heard((text) => said.south.push(text));
    const fourth = await openRedis(redis?.url ?? '', () => {}, 'south');
    closing.push(() => fourth.close());
    await expect.poll(() => { one.say(CANARY); fourth.say(OF_SOUTH); return said.north.length > 0 && said.south.length > 0; }, WAIT).toBe(true);
    expect([...new Set(said.north), ...new Set(said.south)]).toEqual([CANARY, OF_SOUTH]);
  }, 120_000);

  it('K525 a code of north opens nothing in south and stays good; a password of north is none; who guesses in south makes nobody in north wait', async () => {
    // Without row security: the sentences alone.
    const both = await twoStudios(await engine?.database() ?? '', redis?.url ?? '', closing, false);
    const { north, south, alsoSouth } = both;
    const pairAt = (url: string, code: string, cookie = '') => fetch(`${url}/api/pair`, { method: 'POST', headers: { 'content-type': 'application/json', cookie }, body: JSON.stringify({ code }) });
    expect(await north.hand.room().send({ type: 'end' })).toEqual({ done: true });
    const code = (await north.screen.until((r) => Boolean(r.about?.pairing), 'a code of north')).about?.pairing?.code ?? '';
    await expect.poll(async () => (await north.server.studio.store.chain?.entries('code/'))?.has(`code/${code}`), WAIT).toBe(true);
    for (const { url } of [south.server, alsoSouth]) expect((await pairAt(url, code)).status).toBe(403);
    for (let n = 0; n < PAIRING_FREE_TRIES + 1; n += 1) await pairAt(south.server.url, code);
    expect((await pairAt(south.server.url, code)).status).toBe(429);
    expect((await comeIn(south.server.url, PASSWORDS.north)).status).toBe(403);
    const paired = await pairAt(north.server.url, code, south.phone);
    expect(paired.status).toBe(200);
    // A token of another studio is not taken on: the phone has one for each.
    expect(paired.headers.get('set-cookie')).not.toContain(south.phone.split('=')[1] ?? '');
    expect((await comeIn(north.server.url, PASSWORDS.north)).status).toBe(200);
  }, 120_000);
});
