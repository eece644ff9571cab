/**
 * Owns killing the built server at random moments, again and again, while a phone presses
 * commands: `npx tsx tests/server/kills.ts --times 200 --seed 1`. Needs `npm run build` first.
 */
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import Database from 'better-sqlite3';
import { FILE } from '../../server/store/database.ts';
import type { Event } from '../../shared/session/command.ts';
import { freePort, launch } from './process.ts';
import { type Device, device, live, newFolder, pair } from './serve.ts';

/** Mulberry32: small, and the same for the same seed everywhere. */
export function chanceFrom(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** So many events in one class; then the next one is started. */
const CLASS_EVENTS = 1_500;
/** One start in so many is killed before it listens. */
const EARLY = 4;

export interface Killed {
  readonly kills: number;
  readonly early: number;
  readonly pressed: number;
  readonly acknowledged: number;
  /** Stored but never acknowledged: the answer was under way when the server was killed. */
  readonly unheard: number;
  readonly lost: readonly string[];
  readonly twice: readonly string[];
  /** What a server said that did not start. */
  readonly broken: readonly string[];
}

const pause = (ms: number) => new Promise<void>((resolve) => { setTimeout(resolve, ms); });

/** Every note of every class in the file, after a whole check of it. */
function notesIn(data: string): string[] {
  const db = new Database(join(data, FILE));
  const check = db.pragma('integrity_check', { simple: true });
  if (check !== 'ok') throw new Error(`the database is broken: ${String(check)}`);
  const events = (db.prepare('SELECT event FROM events').all() as { event: string }[]).map((row) => JSON.parse(row.event) as Event);
  db.close();
  return events.flatMap((event) => (event.type === 'noted' ? [event.text] : []));
}

/** @param built the bundle in dist, else the sources */
export async function kills(times: number, seed: number, built: boolean): Promise<Killed> {
  const chance = chanceFrom(seed);
  const [data, port] = [newFolder(), await freePort()];
  const url = `http://127.0.0.1:${port}`;
  const acknowledged = new Set<string>();
  const broken: string[] = [];
  let [pressed, early, count] = [0, 0, 0];
  let server = launch(data, port, { built });
  await server.listening;
  const screen = device(url, 'screen');
  const phone: Device = device(url, 'phone', await pair(url, screen));

  const press = async () => {
    pressed += 1;
    const text = `note ${pressed}`;
    if ((await phone.room().send({ type: 'note', text })).done) acknowledged.add(text);
  };
  const ready = async () => {
    await phone.until(live, 'the phone');
    if (phone.room().session && phone.room().seq < CLASS_EVENTS) return;
    if (phone.room().session) await phone.room().send({ type: 'end' });
    await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
    await phone.until((r) => r.session !== null && r.seq < CLASS_EVENTS, 'the class');
  };

  for (; count < times && broken.length === 0; count += 1) {
    if (Math.floor(chance() * EARLY) === 0) {
      // Before it listens: in the middle of opening, checking and replaying what the last one left.
      server.listening.catch(() => {});
      early += 1;
    } else {
      await server.listening.then(ready, (error: Error) => { broken.push(error.message); });
    }
    const until = performance.now() + chance() * 300;
    const inFlight: Promise<void>[] = [];
    while (performance.now() < until) {
      if (phone.room().link.state === 'live') inFlight.push(press());
      await pause(chance() * 6);
    }
    await server.end('SIGKILL');
    await Promise.all(inFlight);
    server = launch(data, port, { built });
  }
  await server.listening.catch((error: Error) => { broken.push(error.message); });
  if (broken.length === 0) await phone.until(live, 'the phone at the end');
  for (const d of [screen, phone]) d.close();
  await server.end('SIGTERM');
  const notes = notesIn(data);
  const kept = new Set(notes);
  rmSync(data, { recursive: true });
  return {
    kills: count, early, pressed, acknowledged: acknowledged.size, broken,
    unheard: [...kept].filter((text) => !acknowledged.has(text)).length,
    lost: [...acknowledged].filter((text) => !kept.has(text)),
    twice: notes.filter((text, i) => notes.indexOf(text) !== i),
  };
}

if (process.argv[1]?.endsWith('kills.ts')) {
  const { values } = parseArgs({ options: { times: { type: 'string', default: '200' }, seed: { type: 'string', default: '1' } } });
  const k = await kills(Number(values.times), Number(values.seed), true);
  process.stdout.write(
    `seed ${values.seed}: killed ${k.kills} times, ${k.early} of them before it listened or as it began to; ${k.pressed} commands pressed, ${k.acknowledged} acknowledged, `
    + `${k.unheard} stored without their answer having arrived; ${k.lost.length} lost, ${k.twice.length} acted twice, ${k.broken.length} starts refused.\n`,
  );
  for (const sentence of [...k.lost, ...k.twice, ...k.broken]) process.stdout.write(`  ${sentence}\n`);
  process.exit(k.lost.length + k.twice.length + k.broken.length === 0 ? 0 : 1);
}
