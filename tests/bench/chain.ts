/**
 * Owns the bench of two servers behind a balancer, on a real PostgreSQL and a real Redis: one is killed in
 * the middle of classes, Redis goes and comes, and how far apart their clocks are. `-- --times=50 --away=30` kills so often and keeps Redis away so long.
 * `--from=../before` starts both from another checkout, built there, and each that was ended from this one: an upgrade, one server at a time.
 */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { deviceClock } from '../../shared/link/device-clock.ts';
import { createLink, type Link } from '../../shared/link/link.ts';
import { openSocket } from '../../shared/link/socket.ts';
import { testPostgres } from '../chain/postgres.ts';
import { testRedis } from '../chain/redis.ts';
import { freePort } from '../server/process.ts';
import { connect, hallclock, joinAs, pause, type Running } from './server.ts';
import { median, percentile, table } from './table.ts';

const ROOMS = 50;
const numberOf = (name: string, usual: number): number => Number(process.argv.find((a) => a.startsWith(`--${name}=`))?.split('=')[1] ?? usual);

/** Debian's haproxy with the file of server/deploy/chain on other ports; null where it is not installed. */
async function balancer(ports: readonly [number, number]): Promise<{ url: string; child: ChildProcess } | null> {
  if (spawnSync('haproxy', ['-v']).status !== 0) return null;
  const port = await freePort();
  const file = join(mkdtempSync(join(tmpdir(), 'hallclock-balancer-')), 'haproxy.cfg');
  const given = readFileSync(join(import.meta.dirname, '../../server/deploy/chain/haproxy.cfg'), 'utf8');
  // All devices of a bench are this one computer.
  writeFileSync(file, given.replace(':8080', `127.0.0.1:${port}`).replace('8081', String(ports[0])).replace('8082', String(ports[1])).replace(/^ +http-request .*$/gm, ''));
  return { url: `http://127.0.0.1:${port}`, child: spawn('haproxy', ['-f', file], { stdio: 'ignore' }) };
}

const linkTo = (url: string, room: string, role: 'screen' | 'phone', cookie?: string): Link => createLink({
  role, room, clock: deviceClock, newId: () => crypto.randomUUID(), open: openSocket({ url, ...(cookie === undefined ? {} : { headers: { cookie } }) }),
});
const right = (l: Link) => l.room().link.state === 'live' && l.room().session !== null && l.room().now() !== null;
async function until(is: () => boolean, what: string): Promise<void> {
  const from = performance.now();
  while (!is()) {
    if (performance.now() - from > 60_000) throw new Error(`${what} did not come`);
    await pause(2);
  }
}

async function clocksApart(servers: readonly Running[]): Promise<number[]> {
  const sockets = await Promise.all(servers.map((s) => connect(s.url)));
  const apart: number[] = [];
  for (let n = 0; n < 40; n += 1) {
    const offsets = [];
    for (const socket of sockets) {
      let best = { delayMs: Number.POSITIVE_INFINITY, offsetMs: 0 };
      for (let k = 0; k < 12; k += 1) {
        const t1 = performance.now();
        const { receivedAt, sentAt } = (await socket.emitWithAck('sample')) as { receivedAt: number; sentAt: number };
        const t4 = performance.now();
        const delayMs = t4 - t1 - (sentAt - receivedAt);
        if (delayMs < best.delayMs) best = { delayMs, offsetMs: (receivedAt - t1 + sentAt - t4) / 2 };
      }
      offsets.push(best.offsetMs);
    }
    apart.push(Math.abs((offsets[0] ?? 0) - (offsets[1] ?? 0)));
    await pause(100);
  }
  for (const s of sockets) s.disconnect();
  return apart;
}

export async function run(): Promise<void> {
  const times = numberOf('times', 4);
  const [engine, redis] = [await testPostgres(), await testRedis()];
  if (!engine || !redis) return;
  const database = await engine.database();
  const names = Array.from({ length: ROOMS }, (_, k) => `r${k}`);
  const ports: [number, number] = [await freePort(), await freePort()];
  const before = process.argv.find((a) => a.startsWith('--from='))?.slice('--from='.length);
  const start = (i: number, data?: string, checkout?: string) => hallclock(names, ports[i], data, [], { DATABASE_URL: database, REDIS_URL: redis.url }, checkout);
  const servers: [Running, Running] = [await start(0, undefined, before), await start(1, undefined, before)];
  const front = await balancer(ports);
  if (!front) {
    process.stderr.write('not run: no balancer here. Install Debian\'s "haproxy".\n');
    return;
  }
  process.once('exit', () => { front.child.kill(); });
  await pause(2_000);
  const halls: { readonly screen: Link; readonly phone: Link; readonly off: readonly (() => void)[] }[] = [];
  for (const name of names) {
    const { socket, snapshot } = await joinAs(front.url, 'screen', name);
    // The code goes to the board first; nobody types it sooner.
    await pause(50);
    const answer = await fetch(`${front.url}/api/pair`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ code: snapshot.pairing?.code }) });
    if (!answer.ok) throw new Error(`pairing failed: ${await answer.text()}`);
    socket.disconnect();
    const cookie = answer.headers.getSetCookie().map((c) => c.split(';')[0]).find((c) => c?.startsWith('hallclock=')) ?? '';
    const screen = linkTo(front.url, name, 'screen');
    const phone = linkTo(front.url, name, 'phone', cookie);
    const off = [screen, phone].map((l) => l.subscribe(() => {}));
    await until(() => phone.room().link.state === 'live', 'a phone');
    await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
    await until(() => right(screen), 'a class');
    halls.push({ screen, phone, off });
  }
  const apart = await clocksApart(servers);

  const acknowledged: string[] = [];
  let pressed = 0;
  let pressing = true;
  const loops = halls.map(async ({ phone }, i) => {
    await pause(i * 10);
    while (pressing) {
      pressed += 1;
      const text = `note ${pressed}`;
      if ((await phone.room().send({ type: 'note', text })).done) acknowledged.push(text);
      await pause(500);
    }
  });
  const back: number[] = [];
  for (let n = 0; n < times; n += 1) {
    const i = n % 2;
    const hit = servers[i as 0 | 1];
    await pause(500 + Math.random() * 500);
    const from = performance.now();
    await hit.kill(before === undefined ? 'SIGKILL' : 'SIGTERM');
    await pause(20);
    const lost = halls.map((h) => h.screen).filter((s) => s.room().link.state !== 'live');
    await Promise.all(lost.map(async (s) => {
      await until(() => right(s), 'a screen');
      back.push(performance.now() - from);
    }));
    await until(() => halls.every((h) => right(h.phone)), 'the phones');
    servers[i as 0 | 1] = await start(i, hit.data);
    await pause(2_000);
  }
  pressing = false;
  await Promise.all(loops);

  /** A head count through one phone until the last screen of all rooms shows it. */
  const shownAfter = async (heads: number): Promise<number> => {
    const from = performance.now();
    await Promise.all(halls.map((h) => h.phone.room().send({ type: 'head-count', n: heads })));
    await until(() => halls.every((h) => h.screen.room().session?.headCount === heads), 'the heads');
    return performance.now() - from;
  };
  const withRedis = await shownAfter(1);
  const stopped = performance.now();
  await redis.stop();
  const without = [await shownAfter(2), await shownAfter(3)];
  await pause(Math.max(0, numberOf('away', 5) * 1_000 - (performance.now() - stopped)));
  without.push(await shownAfter(4));
  await redis.start();
  const returned = await shownAfter(5);

  const client = new pg.Client({ connectionString: database });
  await client.connect();
  const { rows } = await client.query<{ event: string }>('SELECT event FROM events');
  await client.end();
  const notes = rows.flatMap((row) => { const e = JSON.parse(row.event) as { type: string; text?: string }; return e.type === 'noted' ? [e.text ?? ''] : []; });
  const kept = new Set(notes);
  for (const h of halls) for (const off of h.off) off();
  front.child.kill();
  for (const s of servers) await s.close();
  await redis.stop();
  await engine.close();
  table(`Two servers, PostgreSQL, Redis and haproxy: one of two killed ${times} times in the middle of ${ROOMS} classes`, [
    ['', 'n', 'median', 'p95', 'most'],
    ['until a screen of the killed one is right on the other, ms', String(back.length), median(back), percentile(back, 0.95), Math.max(...back)],
    ['clocks of the two servers apart, ms', String(apart.length), median(apart), percentile(apart, 0.95), Math.max(...apart)],
  ]);
  table('Commands', [
    ['pressed', 'acknowledged', 'acknowledged and lost', 'acted twice'],
    [String(pressed), String(acknowledged.length), String(acknowledged.filter((t) => !kept.has(t)).length), String(notes.length - kept.size)],
  ]);
  table(`A command in each of ${ROOMS} rooms at once, until every screen has it, ms`, [
    ['Redis there', 'Redis away, most of three', 'at its return'],
    [withRedis, Math.max(...without), returned],
  ]);
}
