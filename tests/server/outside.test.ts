/** Watches a real server through a whole class for anything that leaves it: it answers, and asks nobody. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { earlierStart, insideCookie } from '../inside.ts';
import { freePort, startProcess } from './process.ts';
import { device, live, newFolder, pair, sessionOf } from './serve.ts';

const watcher = new URL('./watch-net.mjs', import.meta.url).href;
const lines = (file: string): string[] => (existsSync(file) ? readFileSync(file, 'utf8').trim().split('\n').filter((l) => l !== '') : []);

it('R57 the watch sees connections, names, datagrams and programs that a process and its threads reach for', () => {
  const file = join(newFolder(), 'watched');
  const tries = `
    import { Worker } from 'node:worker_threads'; import { lookup } from 'node:dns'; import { createSocket } from 'node:dgram'; import { execFile } from 'node:child_process'; import { connect } from 'node:net';
    const none = () => {};
    fetch('http://127.0.0.1:49999/').catch(none);
    lookup('elsewhere.invalid', none);
    connect(9, '127.0.0.2').on('error', none);
    const s = createSocket('udp4'); s.send('x', 9, '127.0.0.1', () => s.close());
    execFile('true', none);
    new Worker(new URL('data:text/javascript,import { connect } from "node:net"; connect(9, "127.0.0.3").on("error", () => {});'));`;
  spawnSync(process.execPath, ['--import', watcher, '--input-type=module', '-e', tries], { env: { ...process.env, WATCHED: file }, timeout: 60_000 });
  const seen = lines(file).join('\n');
  for (const what of ['connect 127.0.0.1:49999', 'lookup elsewhere.invalid', 'connect 127.0.0.2:9', 'send datagram x 9 127.0.0.1', 'execFile true', 'connect 127.0.0.3:9']) expect(seen).toContain(what);
});

it('R57 through its start, a whole class, the desk, the tables and its end the server reaches for nothing outside itself', async () => {
  const data = newFolder();
  mkdirSync(data, { recursive: true });
  earlierStart(data);
  const file = join(newFolder(), 'watched');
  const server = await startProcess(data, await freePort(), `export WATCHED="${file}" NODE_OPTIONS="--import ${watcher}";`);
  const screen = device(server.url, 'screen');
  const phone = device(server.url, 'phone', await pair(server.url, screen));
  await phone.until(live, 'the phone');
  const say = (command: Parameters<ReturnType<typeof phone.room>['send']>[0]) => phone.room().send(command);
  await say({ type: 'start', plan: 'quarter-hour', freeAt: null, instructor: 'Q' });
  await phone.until((r) => r.session !== null, 'the class');
  await say({ type: 'go', occurrence: `${sessionOf(phone).intervals[0]?.id}~0` });
  await say({ type: 'pause', reason: 'form' });
  await say({ type: 'note', text: 'https://elsewhere.example/picture.png' });
  await say({ type: 'end' });
  await screen.until((r) => Boolean(r.session?.over), 'the end');
  for (const path of ['/screen', '/phone', '/desk', '/movements', '/api/health', '/metrics', '/api/plans', '/api/movements', '/api/classes', '/api/review', '/api/live', '/api/export.csv', '/api/export.json', '/api/timetable', '/api/timetable.ics', '/api/openapi.json', '/api/music', '/api/emergency']) {
    await (await fetch(`${server.url}${path}`, { headers: { cookie: insideCookie } })).arrayBuffer();
  }
  screen.close();
  phone.close();
  expect(await server.end('SIGTERM')).toBe(0);
  // What reads the sources here (tsx) speaks with itself through a pipe, and starts its compiler for a source that it has not
  // read before; the built server has none of it. A name that is
  // told to the room by multicast stays on the link: routers forward nothing to 224.0.0.251 and ff02::fb (RFC 6762 section 3).
  expect(lines(file).filter((l) => !/^connect .*tsx-\d+.*pipe/.test(l) && !/^spawn .*\/node_modules\/@esbuild\/[^/]+\/bin\/esbuild$/.test(l) && !/ datagram .*(224\.0\.0\.251|ff02::fb)/.test(l))).toEqual([]);
}, 180_000);
