/** Owns the bench of one command to many screens, beside a bare relay, in interleaved rounds. */
import type { Socket } from 'socket.io-client';
import { connect, hallclock, joinAs, pause, phoneIn, relay, type Running } from './server.ts';
import { median, percentile, table } from './table.ts';

const ROUNDS = 5;
const COMMANDS = 40;

/** Milliseconds from sending to the arrival at the last screen, for each of some commands. */
async function rounds(screens: readonly Socket[], say: (n: number) => Promise<unknown>): Promise<number[]> {
  const out: number[] = [];
  for (let n = 0; n < COMMANDS; n += 1) {
    const from = performance.now();
    const all = screens.map((s) => new Promise<void>((resolve) => { s.once('news', () => resolve()); }));
    void say(n);
    await Promise.all(all);
    out.push(performance.now() - from);
    await pause(10);
  }
  return out;
}

async function bare(server: Running, count: number) {
  const screens = await Promise.all(Array.from({ length: count }, () => connect(server.url)));
  await Promise.all(screens.map((s) => s.emitWithAck('join', 'r')));
  const phone = await connect(server.url);
  const body = { session: crypto.randomUUID(), seq: 1, events: [{ type: 'counted-heads', at: Date.now(), n: 14 }] };
  return { screens, say: () => phone.emitWithAck('command', body), close: () => { for (const s of [...screens, phone]) s.disconnect(); } };
}

async function ours(server: Running, count: number) {
  const hand = await phoneIn(server.url, `r${count}`);
  const screens = (await Promise.all(Array.from({ length: count }, () => joinAs(server.url, 'screen', `r${count}`)))).map((s) => s.socket);
  await pause(500);
  return { screens, say: (n: number) => hand.say({ type: 'note', text: String(n) }), close: () => { for (const s of [...screens, hand.socket]) s.disconnect(); } };
}

export async function run(): Promise<void> {
  const rows: (string | number)[][] = [['screens in the room', 'bare p50', 'bare p99', 'commit p50', 'commit p99', 'ours p50', 'ours p99', 'ours : commit']];
  const counts = [10, 100, 1_000];
  const servers = [await relay(false), await relay(true), await hallclock(counts.map((c) => `r${c}`))] as const;
  for (const count of counts) {
    const sets = [await bare(servers[0], count), await bare(servers[1], count), await ours(servers[2], count)] as const;
    const took: [number[], number[], number[]] = [[], [], []];
    const ratios: number[] = [];
    for (let round = 0; round < ROUNDS; round += 1) {
      const [a, b, c] = [await rounds(sets[0].screens, sets[0].say), await rounds(sets[1].screens, sets[1].say), await rounds(sets[2].screens, sets[2].say)];
      took[0].push(...a);
      took[1].push(...b);
      took[2].push(...c);
      ratios.push(median(c) / median(b));
    }
    rows.push([String(count), ...took.flatMap((t) => [median(t), percentile(t, 0.99)]), median(ratios)]);
    for (const set of sets) set.close();
  }
  for (const server of servers) await server.close();
  table(`Command to the last screen, ms; ${ROUNDS} interleaved rounds of ${COMMANDS}; "commit" is a bare relay with the same SQLite commit`, rows);
}
