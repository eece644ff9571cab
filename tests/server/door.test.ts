/** Owns the door of a real server: foreign names and pages, floods, crowds, and those who do not read. */
import { Agent, type AgentOptions, request as ask } from 'node:http';
import { connect } from 'node:net';
import { gzipSync } from 'node:zlib';
import { io, type Socket } from 'socket.io-client';
import request from 'supertest';
import { afterEach, expect, it } from 'vitest';
import { CONNECTIONS_PER_ADDRESS_MAX, FLOOD_MESSAGES, JOINS_RATE, MESSAGES_RATE, TCP_PER_ADDRESS_MAX, UNREAD_MAX } from '../../shared/limits.ts';
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
  await expect.poll(() => open().then((s) => s !== null), { timeout: 30_000, interval: 200 }).toBe(true);
});

it('R54 a device that asks for the whole class again and again is cut off and kept out; another device is let in', async () => {
  server = await serve(newFolder(), { HALLCLOCK_LIMIT_LOOPBACK: 'yes' });
  const from = (localAddress: string): Promise<Socket | null> => new Promise((resolve) => {
    const agent = new Agent({ localAddress } as AgentOptions);
    const socket = io(server.url, { transports: ['websocket'], reconnection: false, forceNew: true, agent: agent as unknown as string });
    sockets.push(socket);
    socket.on('connect', () => resolve(socket));
    socket.on('connect_error', () => resolve(null));
  });
  const rude = await from('127.0.9.1');
  if (!rude) throw new Error('not in');
  const gone = new Promise((resolve) => { rude.on('disconnect', resolve); });
  for (let n = 0; n < JOINS_RATE.burst + 3; n += 1) rude.emit('join', { protocol: PROTOCOL, role: 'screen', room: 'garden' }, () => {});
  await gone;
  expect(server.warnings.filter((w) => w.includes('again and again'))).toHaveLength(1);
  expect(await from('127.0.9.1')).toBeNull();
  expect(await from('127.0.9.2')).not.toBeNull();
});

it('R55 one address holds so many TCP connections and no more, whatever it says on them; another address still gets in', async () => {
  server = await serve(newFolder(), { HALLCLOCK_LIMIT_LOOPBACK: 'yes' });
  const hold = (localAddress: string) => connect({ port: server.port, host: '127.0.0.1', localAddress });
  const silent = Array.from({ length: TCP_PER_ADDRESS_MAX }, () => hold('127.0.9.1'));
  await Promise.all(silent.map((s) => new Promise((resolve) => { s.once('connect', resolve); })));
  const answered = (localAddress: string) => new Promise<string>((resolve) => {
    const socket = hold(localAddress);
    socket.on('error', () => resolve('refused'));
    socket.on('close', () => resolve('refused'));
    socket.on('data', (bytes) => { resolve(String(bytes).slice(0, 12)); socket.destroy(); });
    socket.write('GET /api/health HTTP/1.1\r\nHost: localhost\r\n\r\n');
  });
  expect([await answered('127.0.9.1'), await answered('127.0.9.2')]).toEqual(['refused', 'HTTP/1.1 200']);
  for (const s of silent) s.destroy();
  await expect.poll(() => answered('127.0.9.1'), { timeout: 30_000, interval: 100 }).toBe('HTTP/1.1 200');
});

it('R56 a device that does not read what it is sent is cut off', async () => {
  server = await serve(newFolder());
  const at = `${server.url}/socket.io/?EIO=4&transport=polling`;
  const { sid } = JSON.parse((await (await fetch(at)).text()).slice(1)) as { sid: string };
  const say = (body: string) => fetch(`${at}&sid=${sid}`, { method: 'POST', body });
  await say('40');
  await say(Array.from({ length: UNREAD_MAX + 100 }, (_, n) => `42${n}["sample"]`).join('\x1e'));
  await expect.poll(() => server.warnings.filter((w) => w.includes('does not read')).length, { timeout: 30_000 }).toBe(1);
  expect((await say('42["sample"]')).status).toBe(400);
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
  // Ten megabytes in ten kilobytes: what it unfolds to counts.
  const bomb = gzipSync(Buffer.concat([Buffer.from('{"code":"'), Buffer.alloc(10 * 1_048_576, '1'), Buffer.from('"}')]));
  const unfolded = await request(server.url).post('/api/pair').set({ 'Content-Type': 'application/json', 'Content-Encoding': 'gzip' }).serialize((b: unknown) => b as string).send(bomb);
  expect([bomb.length < 20_000, unfolded.status]).toEqual([true, 413]);
  // A path outside of the folders, written in several ways.
  for (const path of ['/media/../package.json', '/media/%2e%2e/package.json', '/media/..%2fpackage.json', '/pictures/..%2f..%2fpackage.json', '/pictures/%00', '/api/plans/..%2f..%2fpackage']) {
    const status = await new Promise((resolve) => {
      ask(server.url, { path }, (r) => { r.resume(); resolve(r.statusCode); }).end();
    });
    expect([400, 403, 404], path).toContain(status);
  }
});
