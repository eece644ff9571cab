/** Owns the bench of a power cut: SIGKILL, a restart at once, and how long until every screen is right again. */
import { deviceClock } from '../../shared/link/device-clock.ts';
import { createLink, type Link } from '../../shared/link/link.ts';
import { openSocket } from '../../shared/link/socket.ts';
import { hallclock, pause, phoneIn } from './server.ts';
import { median, percentile, table } from './table.ts';

const TIMES = 20;
const SCREENS = 3;

export async function run(): Promise<void> {
  let server = await hallclock(['r0']);
  const port = Number(new URL(server.url).port);
  await phoneIn(server.url, 'r0');
  const links: Link[] = Array.from({ length: SCREENS }, () => createLink({
    role: 'screen', room: 'r0', clock: deviceClock, open: openSocket({ url: server.url }), newId: () => crypto.randomUUID(),
  }));
  const stop = links.map((l) => l.subscribe(() => {}));
  const right = (l: Link) => l.room().link.state === 'live' && l.room().session !== null && l.room().now() !== null;
  const all = async () => { while (!links.every(right)) await pause(2); };
  await all();
  await pause(3_000);
  const back: number[] = [];
  const apart: number[] = [];
  /** What a screen's clock says beside the machine's own, in milliseconds. */
  const offset = (l: Link) => (l.room().now() ?? 0) - Date.now();
  for (let k = 0; k < TIMES; k += 1) {
    const before = links.map(offset);
    const from = performance.now();
    await server.kill('SIGKILL');
    await pause(1);
    const next = hallclock(['r0'], port, server.data);
    while (links.some((l) => l.room().link.state === 'live')) await pause(2);
    apart.push(...links.map((l, i) => Math.abs(offset(l) - (before[i] ?? 0))));
    server = await next;
    await all();
    back.push(performance.now() - from);
    apart.push(...links.map((l, i) => Math.abs(offset(l) - (before[i] ?? 0))));
    await pause(1_500);
  }
  for (const off of stop) off();
  await server.close();
  table(`SIGKILL and a restart at once, ${TIMES} times, ${SCREENS} screens`, [
    ['', 'median', 'p95', 'most'],
    ['until every screen is right, ms', median(back), percentile(back, 0.95), Math.max(...back)],
    ['screens off while the server is away, ms', median(apart), percentile(apart, 0.95), Math.max(...apart)],
  ]);
}
