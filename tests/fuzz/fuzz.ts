/**
 * Owns one run: a real server with a class that runs, everything hostile that is sent to
 * it, and what must be true afterwards: the class at its second, its log as its phone
 * pressed it, the memory back, and nothing done that nobody was allowed to do.
 */
import { readFileSync } from 'node:fs';
import Database from 'better-sqlite3';
import { join } from 'node:path';
import { launch } from '../server/process.ts';
import { freePort } from '../server/process.ts';
import { device, live, newFolder, pair, sessionOf } from '../server/serve.ts';
import { placeAt } from '../../shared/session/place.ts';
import { chanceOf } from './chance.ts';
import { type Answered, fuzzRequests } from './requests.ts';
import { fuzzSockets } from './sockets.ts';

export interface Fuzzed {
  readonly sent: number; readonly devices: number; readonly http: Answered;
  readonly memoryBeforeMb: number; readonly memoryAfterMb: number; readonly problems: string[];
}

const residentMb = (pid: number): number => Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0) / 1_024;
const pause = (ms: number) => new Promise((resolve) => { setTimeout(resolve, ms); });

export async function fuzz(messages: number, requests: number, seed: number): Promise<Fuzzed> {
  const folder = newFolder();
  const port = await freePort();
  const url = `http://127.0.0.1:${port}`;
  const server = launch(folder, port);
  await server.listening;
  const problems: string[] = [];
  const screen = device(url, 'screen');
  const phone = device(url, 'phone', await pair(url, screen));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  const { session } = await phone.until((r) => r.session !== null, 'the class');
  await phone.room().send({ type: 'go', occurrence: `${session?.intervals[0]?.id}~0` });
  const startedAt = sessionOf(phone).startedAt;
  const before = residentMb(server.pid);
  const chance = chanceOf(seed);
  const [sockets, http] = await Promise.all([fuzzSockets(url, chance, messages), fuzzRequests(url, chanceOf(seed + 1), requests)]);
  await pause(1_500);

  const [p, s] = [sessionOf(phone), sessionOf(screen)];
  if (p.startedAt !== startedAt || p.id !== s.id) problems.push('the phone or the screen has another class than before');
  const at = phone.room().now();
  if (!at) problems.push('the phone has lost the time');
  else if (JSON.stringify(placeAt(p, at)) !== JSON.stringify(placeAt(s, at))) problems.push('phone and screen stand at different places');
  if (!live(phone.room()) || !live(screen.room())) problems.push('phone or screen was cut off');
  const reply = await phone.room().send({ type: 'head-count', n: 7 });
  if (!('done' in reply)) problems.push(`the phone's tap was refused: ${JSON.stringify(reply)}`);
  const after = residentMb(server.pid);
  phone.close();
  screen.close();
  const code = await server.end('SIGTERM');
  if (code !== 0) problems.push(`the server ended with ${code}`);
  const db = new Database(join(folder, 'hallclock.db'), { readonly: true });
  const types = (db.prepare('select event from events order by session, seq').all() as { event: string }[]).map((row) => (JSON.parse(row.event) as { type: string }).type);
  db.close();
  if (types.join() !== 'started,went,counted-heads') problems.push(`the log holds what nobody pressed: ${types.slice(0, 20).join()}`);
  problems.push(...http.leaks.slice(0, 10));
  return { ...sockets, http, memoryBeforeMb: before, memoryAfterMb: after, problems };
}
