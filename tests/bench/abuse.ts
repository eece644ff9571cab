/**
 * Owns the bench of a studio that is abused: 500 connections that hear everything, 200 more a second that come and
 * go, one that never reads, one that sends 10,000 commands a second; and the instructor's tap to the screen meanwhile,
 * beside the same tap before and after. All on this machine; a minute at most.
 */
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import type { Done } from './abusers.ts';
import { type Hand, hallclock, joinAs, pause, phoneIn } from './server.ts';
import { median, percentile, table } from './table.ts';

const QUIET_MS = 6_000;
const ATTACK_MS = 15_000;
const EACH_MS = 25;

/** Milliseconds from the tap to its news at a screen that came last. */
async function taps(hand: Hand, url: string, forMs: number): Promise<number[]> {
  const { socket: screen } = await joinAs(url, 'screen', 'r0');
  const took: number[] = [];
  const until = performance.now() + forMs;
  for (let n = 0; performance.now() < until; n += 1) {
    const from = performance.now();
    const news = new Promise<void>((resolve) => { screen.once('news', () => resolve()); });
    void hand.say({ type: 'note', text: String(n) });
    await news;
    took.push(performance.now() - from);
    await pause(EACH_MS);
  }
  screen.disconnect();
  return took;
}

const row = (what: string, ms: readonly number[]) => [what, String(ms.length), median(ms), percentile(ms, 0.99), Math.max(...ms)];

export async function run(): Promise<void> {
  const server = await hallclock(['r0'], 0, undefined, [], { HALLCLOCK_LIMIT_LOOPBACK: 'yes' });
  const hand = await phoneIn(server.url, 'r0');
  const before = await taps(hand, server.url, QUIET_MS);
  const abusers = spawn(process.execPath, ['--import', 'tsx', join(import.meta.dirname, 'abusers.ts'), server.url, 'r0'], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
  const said = <T>() => new Promise<T>((resolve, reject) => {
    abusers.once('message', (m: T) => resolve(m));
    abusers.once('exit', (code) => reject(new Error(`those who abuse ended (${code})`)));
  });
  await said();
  const idle = await taps(hand, server.url, QUIET_MS);
  abusers.send('go');
  const attacked = await taps(hand, server.url, ATTACK_MS);
  const last = said<Done>();
  abusers.send('stop');
  const done = await last;
  await pause(1_000);
  const after = await taps(hand, server.url, QUIET_MS);
  hand.socket.disconnect();
  await server.close();
  table('The tap on the phone to its news at the screen, ms; to reach under abuse: p99 under 100', [
    ['', 'taps', 'p50', 'p99', 'most'],
    row('before', before), row(`${done.idle} idle connections`, idle), row('and all the rest', attacked), row('after', after),
  ]);
  const s = ATTACK_MS / 1_000;
  process.stdout.write(`A second: ${Math.round(done.commands / s)} commands sent, ${Math.round(done.came / s)} connections opened and dropped (${done.letIn} of ${done.came} let in), ${Math.round(done.asked / s)} snapshots asked for and not read; ${done.cutOff} times cut off.\n`);
}
