/** Owns the bench of one and two servers of one log under load, beside bare Socket.IO servers with the same adapter, in the same run. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Socket } from 'socket.io-client';
import { testPostgres } from '../chain/postgres.ts';
import { testRedis } from '../chain/redis.ts';
import { begin, connect, hallclock, joinAs, pause, phoneIn, type Running } from './server.ts';
import { median, percentile, table } from './table.ts';

const [ROOMS, SCREENS, SECONDS, REST_SECONDS] = [60, 3, 8, 8];
const CROWD = 1_000;
const rssKb = (pid: number): number => Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0);
const RATES = [60, 240];

interface Hall { readonly walls: readonly Socket[]; readonly say: (n: number) => Promise<unknown> }

async function measured(halls: readonly Hall[], servers: readonly Running[], rate: number): Promise<(string | number)[]> {
  const took: number[] = [];
  const cpuS = servers.map((s) => s.cpuS());
  const from = performance.now();
  let n = 0;
  while (performance.now() - from < SECONDS * 1_000) {
    const due = Math.floor(((performance.now() - from) / 1_000) * rate);
    for (; n < due; n += 1) {
      const hall = halls[n % ROOMS];
      if (!hall) continue;
      const at = performance.now();
      void Promise.all(hall.walls.map((w) => new Promise<void>((resolve) => { w.once('news', () => resolve()); }))).then(() => took.push(performance.now() - at));
      hall.say(n % 100).catch(() => {});
    }
    await pause(1);
  }
  const core = servers.reduce((sum, s, i) => sum + s.cpuS() - (cpuS[i] ?? 0), 0) / SECONDS * 100;
  await pause(1_000);
  return [String(took.length / SECONDS), median(took), percentile(took, 0.99), core];
}

async function atRest(servers: readonly Running[]): Promise<number> {
  const cpuS = servers.map((s) => s.cpuS());
  await pause(REST_SECONDS * 1_000);
  return servers.reduce((sum, s, i) => sum + s.cpuS() - (cpuS[i] ?? 0), 0) / REST_SECONDS * 100;
}

export async function run(): Promise<void> {
  const [engine, redis] = [await testPostgres(), await testRedis()];
  if (!engine || !redis) return;
  let crowd: (string | number)[] = [];
  const names = Array.from({ length: ROOMS }, (_, k) => `r${k}`);
  const rows: (string | number)[][] = [['', 'asked a second', 'shown a second', 'p50 ms', 'p99 ms', '% of a core', '% at rest']];
  for (const [what, count] of [['ours', 1], ['bare', 1], ['ours', 2], ['bare', 2]] as const) {
    const database = await engine.database();
    const servers: Running[] = [];
    for (let i = 0; i < count; i += 1) {
      servers.push(what === 'ours' ? await hallclock(names, 0, undefined, [], { DATABASE_URL: database, REDIS_URL: redis.url })
        : await begin(['--import', 'tsx', join(import.meta.dirname, 'relay.ts')], { RELAY_REDIS: redis.url }));
    }
    const at = (k: number): string => servers[k % count]?.url ?? '';
    const halls: Hall[] = [];
    for (const [k, name] of names.entries()) {
      if (what === 'ours') {
        const hand = await phoneIn(at(k), name);
        const walls = [];
        for (let s = 0; s < SCREENS; s += 1) walls.push((await joinAs(at(k + s), 'screen', name)).socket);
        halls.push({ walls, say: (n) => hand.say({ type: 'head-count', n }) });
      } else {
        const [hand, ...walls] = await Promise.all(Array.from({ length: SCREENS + 1 }, (_, s) => connect(at(k + Math.max(0, s - 1)))));
        for (const s of [hand, ...walls]) await s?.emitWithAck('join', name);
        halls.push({ walls, say: (n) => hand?.emitWithAck('command', { type: 'head-count', n }) ?? Promise.resolve() });
      }
    }
    await pause(2_000);
    const rest = await atRest(servers);
    for (const rate of RATES) rows.push([`${what}, ${count} process${count === 1 ? '' : 'es'}`, String(rate), ...await measured(halls, servers, rate), rest]);
    for (const { walls } of halls) for (const w of walls) w.disconnect();
    if (what === 'ours' && count === 1) {
      const before = rssKb(servers[0]?.pid ?? 0);
      const more: Socket[] = [];
      for (let n = 0; n < CROWD; n += 1) more.push((await joinAs(at(0), 'screen', `r${n % ROOMS}`)).socket);
      await pause(1_000);
      crowd = [String(CROWD), before / 1_024, (rssKb(servers[0]?.pid ?? 0) - before) / CROWD];
      for (const s of more) s.disconnect();
    }
    for (const s of servers) await s.close();
  }
  await redis.stop();
  await engine.close();
  table('Memory of one process', [['screens more', 'MB before', 'kB a screen'], crowd]);
  table(`${ROOMS} rooms of ${SCREENS} screens, the command's way to the last screen, ${SECONDS} s each; load, database and Redis on the same two cores`, rows);
}
