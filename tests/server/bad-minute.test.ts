/** Holds what the real server does with the people of a room: what is never written, who is told what, and taking over. */
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { replay } from '../../shared/session/evolve.ts';
import { classBodySchema } from '../../shared/wire/http.ts';
import { type Device, device, live, newFolder, pair, serve, sessionOf } from './serve.ts';
import { freePort, startProcess } from './process.ts';

let server: Awaited<ReturnType<typeof serve>>;
let devices: Device[] = [];
let folder = '';
const put = (cookie: string, path: string, body: unknown, url = server.url) => fetch(`${url}${path}`, {
  method: 'PUT', headers: { 'content-type': 'application/json', cookie, origin: url }, body: JSON.stringify(body),
});
const joined = async (...args: Parameters<typeof device>): Promise<Device> => {
  const made = device(...args);
  devices.push(made);
  await made.until(live, args[1]);
  return made;
};
async function both() {
  const screen = await joined(server.url, 'screen');
  const cookie = await pair(server.url, screen);
  return { screen, cookie, phone: await joined(server.url, 'phone', cookie) };
}
const start = { type: 'start', plan: 'forty-twenty', freeAt: null } as const;
const stop = { type: 'stop' } as const;

beforeEach(async () => {
  folder = newFolder();
  server = await serve(folder, { HALLCLOCK_ROOMS: 'garden:Garden room,hall:The hall' });
});
afterEach(async () => {
  for (const d of devices) d.close();
  devices = [];
  await server.close();
});

/** Every byte of every file below a folder. */
function bytesIn(path: string): string {
  return readdirSync(path).map((name) => {
    const file = join(path, name);
    return statSync(file).isDirectory() ? bytesIn(file) : readFileSync(file).toString('latin1');
  }).join('\n');
}

it('R104 who is here today reaches phones only, is in no byte that is written or logged, and is gone with the class', async () => {
  // A process of its own, so that all of its output is read; its log says as much as it can.
  const data = newFolder();
  const other = await startProcess(data, await freePort(), 'export HALLCLOCK_LOG=debug;');
  try {
    const screen = await joined(other.url, 'screen');
    const cookie = await pair(other.url, screen);
    const phone = await joined(other.url, 'phone', cookie);
    const desk = await joined(other.url, 'desk', cookie);
    // Numbers that nothing else has.
    const marks = [['new', 487], ['knee', 491], ['pregnancy', 463], ['no-floor', 457]] as const;
    for (const [what, n] of marks) expect(await phone.room().tell({ do: 'here', what, n })).toEqual({ done: true });
    await phone.room().tell({ do: 'heads', n: 479 });
    await phone.room().send(start);
    await phone.room().tell({ do: 'late' });
    await phone.room().send(stop);
    await phone.room().send({ type: 'to-paused' });
    const here = (await phone.until((r) => (r.about?.people.here?.late.length ?? 0) > 0, 'who is here')).about?.people.here;
    expect(here).toMatchObject({ counts: Object.fromEntries(marks), heads: 480 });
    expect([screen, desk].map((d) => d.room().about?.people.here)).toEqual([null, null]);
    await phone.room().send({ type: 'head-count', n: 12 });
    await phone.room().send({ type: 'end' });
    await phone.until((r) => r.about?.people.here?.heads === null, 'nobody any more');
    expect(phone.room().about?.people.here).toEqual({ counts: {}, heads: null, late: [] });
    const events = await (await fetch(`${other.url}/api/classes?limit=5`, { headers: { cookie } })).text();
    const written = [bytesIn(data), other.said(), events];
    expect(written[0]).toContain('counted-heads');
    for (const text of written) {
      expect(text).not.toMatch(/"(pregnancy|knee|new|no-floor|no-jumping)":\s*\d/);
      expect(text).not.toMatch(/[":, ](487|491|463|457|479|480)[,} ]/);
      expect(text).not.toContain(String(here?.late[0]));
    }
  } finally {
    await other.end('SIGTERM');
    // What is written on the way down is written too.
    expect(bytesIn(data)).not.toMatch(/[":, ](487|491|463|457|479|480)[,} ]/);
  }
});

it('R105 the other rooms\' phones and the desk are told which room needs a hand, their screens are not, and nobody once it is over', async () => {
  const { screen, cookie, phone } = await both();
  const hallScreen = await joined(server.url, 'screen', undefined, 'hall');
  const shown = await hallScreen.until((r) => Boolean(r.about?.pairing), 'a code');
  await fetch(`${server.url}/api/pair`, { method: 'POST', headers: { 'content-type': 'application/json', cookie }, body: JSON.stringify({ code: shown.about?.pairing?.code }) });
  const hallPhone = await joined(server.url, 'phone', cookie, 'hall');
  const desk = await joined(server.url, 'desk', cookie, 'hall');
  await phone.room().send(start);
  await phone.room().send(stop);
  await screen.until((r) => r.session?.pause?.what === 'stop', 'the stop');
  expect(hallPhone.room().about?.people.elsewhere).toEqual([]);
  // Nobody touched it: four seconds later it is for help.
  const told = await hallPhone.until((r) => r.about?.people.elsewhere.length === 1, 'the call');
  expect(told.about?.people.elsewhere).toMatchObject([{ room: 'garden', name: 'Garden room', what: 'help' }]);
  await desk.until((r) => r.about?.people.elsewhere.length === 1, 'the call');
  expect([hallScreen, screen, phone].map((d) => d.room().about?.people.elsewhere)).toEqual([[], [], []]);
  await phone.room().send({ type: 'answer-stop', what: 'out' });
  await hallPhone.until((r) => r.about?.people.elsewhere[0]?.what === 'out', 'everyone out');
  await phone.room().send({ type: 'to-paused' });
  await hallPhone.until((r) => r.about?.people.elsewhere.length === 0, 'all well');
  expect(sessionOf(screen).pause?.what).toBe('pause');
});

it('R106 emergency facts are kept whole or not at all, read by everybody, written by who belongs here, and told at once', async () => {
  const { screen, cookie } = await both();
  const facts = { ...server.studio.emergency.now(), number: '112', defibrillator: 'By the lift' };
  expect((await put('', '/api/emergency', facts)).status).toBe(403);
  expect((await put(cookie, '/api/emergency', { ...facts, number: 'one one two' })).status).toBe(400);
  expect((await put(cookie, '/api/emergency', { ...facts, cause: 'none' })).status).toBe(400);
  expect((await put(cookie, '/api/emergency', facts)).status).toBe(200);
  await screen.until((r) => r.about?.people.emergency.number === '112', 'the number');
  expect(await (await fetch(`${server.url}/api/emergency`)).json()).toEqual(facts);
  expect(JSON.parse(readFileSync(join(folder, 'emergency.json'), 'utf8'))).toEqual(facts);
});

it('R107 who takes over with the code leads, the other phone is told, the note for cover comes with the plan, and the plan stays as it was', async () => {
  const { screen, cookie, phone } = await both();
  expect((await put(cookie, '/api/plans/forty-twenty/cover', { note: 'Row stays light. Mats are in the left cupboard.' })).status).toBe(200);
  expect((await put(cookie, '/api/plans/nothing/cover', { note: 'x' })).status).toBe(404);
  const planBefore = await (await fetch(`${server.url}/api/plans/forty-twenty`)).text();
  await phone.room().send(start);
  const offered = await phone.room().tell({ do: 'hand-over' });
  if ('sentence' in offered || !offered.code) throw new Error('no code');
  const answer = await fetch(`${server.url}/api/pair`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ code: offered.code }) });
  const second = await joined(server.url, 'phone', (answer.headers.get('set-cookie') ?? '').split(';')[0]);
  const you = second.room().about?.you;
  expect(you).toMatch(/^[\w-]{8}$/);
  await phone.until((r) => r.about?.people.lead === you, 'who leads');
  expect(phone.room().about?.you).not.toBe(you);
  expect(screen.room().about?.people.lead).toBeNull();
  expect(sessionOf(second).plan.forCover).toBe('Row stays light. Mats are in the left cupboard.');
  expect(await second.room().send({ type: 'leave-out', section: 2, item: 0, intervals: sessionOf(second).intervals.filter((i) => i.section === 2 && i.item === 0).map((i) => i.id) })).toEqual({ done: true });
  await phone.room().tell({ do: 'lead' });
  await second.until((r) => r.about?.people.lead === phone.room().about?.you, 'the first again');
  expect(await (await fetch(`${server.url}/api/plans/forty-twenty`)).text()).toBe(planBefore);
});

it('R58 a phone that was paired earlier runs the class of another only with the code on the screen; the stop and what the screen\'s keys can it may at once', async () => {
  const { screen, phone } = await both();
  const next = server.studio.codes.of('garden', server.studio.clock.now()).code;
  await screen.until((r) => r.about?.pairing?.code === next, 'the next code');
  const token = await pair(server.url, screen);
  const earlier = await joined(server.url, 'phone', token);
  expect(earlier.room().about?.you).not.toBe(phone.room().about?.you);
  await phone.room().send(start);
  await earlier.until((r) => r.session !== null && r.about?.people.lead === phone.room().about?.you, 'who leads, told to the other');
  const refused = { done: false, reason: 'not-allowed', sentence: expect.stringContaining('Another phone runs this class. To take it over, type the code') };
  for (const command of [{ type: 'end' }, { type: 'head-count', n: 99 }, { type: 'note', text: 'not mine' }] as const) expect(await earlier.room().send(command), command.type).toMatchObject(refused);
  expect(await earlier.room().tell({ do: 'lead' })).toEqual({ sentence: expect.stringContaining('type the code') });
  expect(phone.room().about?.people.lead).toBe(phone.room().about?.you);
  expect(await earlier.room().send(stop)).toEqual({ done: true });
  expect(await phone.room().send({ type: 'to-paused' })).toEqual({ done: true });
  // The code of the pause, with the token that it has: from then on it leads, and the other is told.
  const mine = earlier.room().about?.you;
  const code = (await screen.until((r) => Boolean(r.about?.pairing), 'the code in the pause')).about?.pairing?.code;
  const again = await fetch(`${server.url}/api/pair`, { method: 'POST', headers: { 'content-type': 'application/json', cookie: token }, body: JSON.stringify({ code }) });
  expect(again.status).toBe(200);
  await phone.until((r) => r.about?.people.lead === mine, 'the other leads');
  expect(await earlier.room().send({ type: 'head-count', n: 12 })).toEqual({ done: true });
  // Who has led this class may take it back without the code; and the next class is anybody's to start.
  expect(await phone.room().send({ type: 'end' })).toEqual({ done: true });
  expect(await earlier.room().send(start)).toEqual({ done: true });
});

it('R108 a stop in the log is read by the phones of that room; to the phone of another it is a pause', async () => {
  const { screen, cookie, phone } = await both();
  const hallScreen = await joined(server.url, 'screen', undefined, 'hall');
  const hallCookie = await pair(server.url, hallScreen);
  await phone.room().send(start);
  await phone.room().send(stop);
  await phone.room().send({ type: 'stamp-stop', what: 'help-called' });
  await phone.room().send({ type: 'to-paused' });
  await screen.until((r) => r.session?.pause?.what === 'pause', 'the pause');
  const id = sessionOf(screen).id;
  const read = async (c: string) => classBodySchema.parse(await (await fetch(`${server.url}/api/classes/${id}`, { headers: { cookie: c } })).json()).events;
  const [mine, theirs] = [await read(cookie), await read(hallCookie)];
  expect(mine.map((e) => e.type)).toEqual(['started', 'stopped', 'stop-stamped', 'came-back']);
  expect(theirs.map((e) => e.type)).toEqual(['started', 'paused']);
  expect(replay(theirs)?.pause?.what).toBe('pause');
});

it('K310 K311 a room that is stopped with no class is stopped after a restart: for the same, since the same, until it is led back; what is old or cannot be read stops nobody', async () => {
  const { screen, phone } = await both();
  const kept = () => readFileSync(join(folder, 'stops.json'), 'utf8');
  /** Another server that finds what was on the disk at that instant, as after a power cut. */
  const found = async (text: string) => {
    const data = newFolder();
    writeFileSync(join(data, 'stops.json'), text);
    const other = await serve(data);
    try {
      const fresh = await joined(other.url, 'screen');
      const { stop: stands } = (await fresh.until((r) => r.about !== null, 'the room')).about?.people ?? {};
      const asked = await fresh.room().send(start);
      return { stands, refused: asked.done ? null : asked.reason, warnings: other.warnings };
    } finally {
      await other.close();
    }
  };
  await phone.room().send(stop);
  await phone.room().send({ type: 'answer-stop', what: 'out' });
  await phone.room().send({ type: 'stamp-stop', what: 'help-called' });
  const atAnswer = kept();
  const known = (await screen.until((r) => Boolean(r.about?.people.stop?.helpCalledAt), 'the stamp')).about?.people.stop;
  expect(JSON.parse(atAnswer)).toEqual({ garden: known });
  expect(await found(atAnswer)).toMatchObject({ stands: known, refused: 'stopped' });
  await phone.room().send({ type: 'to-paused' });
  expect(await found(kept())).toMatchObject({ stands: null, refused: null });
  expect(await found(JSON.stringify({ garden: { ...known, since: 1_600_000_000_000 } }))).toMatchObject({ stands: null });
  const torn = await found(atAnswer.slice(0, 40));
  expect([torn.stands, torn.warnings.join()]).toEqual([null, expect.stringContaining('stops.json cannot be read')]);
});
