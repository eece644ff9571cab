/**
 * Owns the bench of a disk that stalls: every commit of the log waits 300 ms on the disk's own
 * thread. Commands are late by that; samples, joins and heartbeats are to know nothing of it.
 */
import { PROTOCOL } from '../../shared/wire/protocol.ts';
import { connect, hallclock, joinAs, pause, phoneIn, type Running } from './server.ts';
import { median, percentile, table } from './table.ts';

const slowDisk = new URL('./slow-disk.mjs', import.meta.url).href;
const SECONDS = 12;
const STALL_MS = 300;

async function measure(server: Running): Promise<Record<'command' | 'sample' | 'join' | 'heartbeat', number[]>> {
  const hand = await phoneIn(server.url, 'r0');
  const { socket: screen } = await joinAs(server.url, 'screen', 'r0');
  const took = { command: [] as number[], sample: [] as number[], join: [] as number[], heartbeat: [] as number[] };
  const timed = async (into: number[], run: () => Promise<unknown>) => {
    const from = performance.now();
    await run();
    into.push(performance.now() - from);
  };
  const until = performance.now() + SECONDS * 1_000;
  const again = async (everyMs: number, run: () => Promise<unknown>) => {
    while (performance.now() < until) {
      await run();
      await pause(everyMs);
    }
  };
  let n = 0;
  await Promise.all([
    again(50, () => {
      n = (n + 1) % 100;
      return timed(took.command, () => hand.say({ type: 'head-count', n }));
    }),
    again(20, () => timed(took.sample, () => screen.emitWithAck('sample'))),
    again(100, async () => {
      const socket = await connect(server.url);
      await timed(took.join, () => socket.emitWithAck('join', { protocol: PROTOCOL, role: 'screen', room: 'r0' }));
      socket.disconnect();
    }),
    // The transport's own beat is answered by the event loop as an HTTP request is: one of these measures it.
    again(50, () => timed(took.heartbeat, () => fetch(`${server.url}/socket.io/?EIO=4&transport=polling`).then((r) => r.text()))),
  ]);
  hand.socket.disconnect();
  screen.disconnect();
  return took;
}

export async function run(): Promise<void> {
  const rows: (string | number)[][] = [['', 'n', 'as it is p50', 'p99', 'stalled p50', 'p99']];
  const results: Awaited<ReturnType<typeof measure>>[] = [];
  for (const stalled of [false, true]) {
    const server = await hallclock(['r0'], 0, undefined, stalled ? ['--import', slowDisk] : [], { BENCH_STALL_MS: String(STALL_MS) });
    results.push(await measure(server));
    await server.close();
  }
  const [plain, slow] = results;
  if (!plain || !slow) return;
  for (const what of ['command', 'sample', 'join', 'heartbeat'] as const) {
    rows.push([what, `${plain[what].length}, ${slow[what].length}`, ...[plain, slow].flatMap((r) => [median(r[what]), percentile(r[what], 0.99)])]);
  }
  table(`A disk that stalls ${STALL_MS} ms at every write, ms; ${SECONDS} s each`, rows);
}
