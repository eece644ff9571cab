/** Owns the door of a real server: foreign names and pages, floods, crowds, and those who do not read. */
import { request as ask } from 'node:http';
import { io, type Socket } from 'socket.io-client';
import request from 'supertest';
import { afterEach, expect, it } from 'vitest';
import { CONNECTIONS_PER_ADDRESS_MAX, FLOOD_MESSAGES, MESSAGES_RATE } from '../../shared/limits.ts';
import { PROTOCOL } from '../../shared/wire/protocol.ts';
import { device, live, newFolder, pair, serve } from './serve.ts';

let server: Awaited<ReturnType<typeof serve>>;
const sockets: Socket[] = [];
afterEach(async () => {
  for (const s of sockets.splice(0)) s.close();
  await server.close();
});

const open = (extraHeaders: Record<string, string> = {}): Promise<Socket | null> => new Promise((resolve) => {
  const socket = io(server.url, { transports: ['websocket'], reconnection: false, forceNew: true, extraHeaders });
  sockets.push(socket);
  socket.on('connect', () => resolve(socket));
  socket.on('connect_error', () => resolve(null));
});

it('R40 a name that is not ours is told so, over HTTP and at the socket; a name that was given is let in', async () => {
  server = await serve(newFolder(), { HALLCLOCK_NAMES: 'clock.example' });
  const answer = await request(server.url).get('/api/health').set('Host', 'rebound.example').expect(421);
  expect(answer.body.error).toContain('not called "rebound.example"');
  await request(server.url).get('/api/health').set('Host', 'clock.example').expect(200);
  expect(await open({ host: 'rebound.example', origin: 'http://rebound.example' })).toBeNull();
  expect(await open({ host: 'clock.example', origin: 'http://clock.example' })).not.toBeNull();
});

it('R42 a write that a page of another site makes is refused before it is read; its own pages may', async () => {
  server = await serve(newFolder());
  const { host } = new URL(server.url);
  const post = () => request(server.url).post('/api/pair').send({ code: '000000' });
  await post().set('Origin', 'http://elsewhere.example').expect(403, /another site/);
  await post().set('Origin', 'null').expect(403, /another site/);
  await post().set('Sec-Fetch-Site', 'cross-site').expect(403, /another site/);
  await post().set('Sec-Fetch-Site', 'same-site').expect(403, /another site/);
  await post().set('Origin', `http://${host}`).set('Sec-Fetch-Site', 'same-origin').expect(403, /not on a screen/);
});

it('R41 a device that sends thousands of messages is cut off, and the tap of the phone is not', async () => {
  server = await serve(newFolder());
  const screen = device(server.url, 'screen');
  const phone = device(server.url, 'phone', await pair(server.url, screen));
  await phone.until(live, 'the phone');
  const rude = await open();
  if (!rude) throw new Error('not in');
  await rude.emitWithAck('join', { protocol: PROTOCOL, role: 'screen', room: 'garden' });
  const gone = new Promise((resolve) => { rude.on('disconnect', resolve); });
  let busy = 0;
  for (let i = 0; i < MESSAGES_RATE.burst + FLOOD_MESSAGES + 100; i += 1) {
    rude.emit('command', { nonsense: i }, (answer: { refused?: { reason: string } }) => { if (answer.refused?.reason === 'busy') busy += 1; });
  }
  await gone;
  expect(busy).toBeGreaterThan(0);
  expect(server.warnings.filter((w) => w.includes('cut off'))).toHaveLength(1);
  expect(await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null })).toMatchObject({ done: true });
  screen.close();
  phone.close();
});

it('R41 one address may hold so many connections and no more; one that leaves makes room', async () => {
  server = await serve(newFolder(), { HALLCLOCK_LIMIT_LOOPBACK: 'yes' });
  const all = await Promise.all(Array.from({ length: CONNECTIONS_PER_ADDRESS_MAX }, () => open()));
  expect(all.every((s) => s !== null)).toBe(true);
  expect(await open()).toBeNull();
  all[0]?.close();
  await expect.poll(() => open().then((s) => s !== null), { timeout: 3_000, interval: 200 }).toBe(true);
});

it('R43 a body that is too large, too deep or no JSON is refused in a sentence, without a trace of the program', async () => {
  server = await serve(newFolder());
  const deep = `${'['.repeat(400)}${']'.repeat(400)}`;
  for (const [body, status] of [['{"code":', 400], [`{"code":"${'1'.repeat(4_000)}"}`, 413], [deep, 400], ['"\\ud800"', 400], ['{"__proto__":{"code":"123456"}}', 400]] as const) {
    const answer = await request(server.url).post('/api/pair').set('Content-Type', 'application/json').send(body);
    expect(answer.status, body.slice(0, 20)).toBe(status);
    expect(Object.keys(answer.body)).toContain('error');
    expect(answer.text).not.toMatch(/ at |node_modules|\.ts:|SyntaxError/);
  }
  // A path outside of the folders, written in several ways.
  for (const path of ['/media/../package.json', '/media/%2e%2e/package.json', '/media/..%2fpackage.json', '/pictures/..%2f..%2fpackage.json', '/pictures/%00', '/api/plans/..%2f..%2fpackage']) {
    const status = await new Promise((resolve) => {
      ask(server.url, { path }, (r) => { r.resume(); resolve(r.statusCode); }).end();
    });
    expect([400, 403, 404], path).toContain(status);
  }
});
