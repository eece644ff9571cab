/** Owns the bench of many rooms at once: a command's way to the last screen of its room, load from this process. */
import { hallclock, joinAs, pause, phoneIn } from './server.ts';
import { median, percentile, table } from './table.ts';

const SECONDS = 10;

export async function run(): Promise<void> {
  const rows: (string | number)[][] = [['rooms x screens', 'commands a second', 'p50 ms', 'p99 ms', '% of a core']];
  for (const [rooms, screens, rate] of [[100, 3, 100], [400, 5, 400], [600, 3, 600]] as const) {
    const names = Array.from({ length: rooms }, (_, k) => `r${k}`);
    const server = await hallclock(names);
    const halls = [];
    for (const name of names) {
      const hand = await phoneIn(server.url, name);
      const walls = await Promise.all(Array.from({ length: screens }, () => joinAs(server.url, 'screen', name)));
      halls.push({ hand, walls: walls.map((w) => w.socket) });
    }
    await pause(1_500);
    const took: number[] = [];
    const cpuS = server.cpuS();
    const from = performance.now();
    let n = 0;
    while (performance.now() - from < SECONDS * 1_000) {
      const due = Math.floor(((performance.now() - from) / 1_000) * rate);
      for (; n < due; n += 1) {
        const hall = halls[n % rooms];
        if (!hall) continue;
        const at = performance.now();
        void Promise.all(hall.walls.map((w) => new Promise<void>((resolve) => { w.once('news', () => resolve()); }))).then(() => took.push(performance.now() - at));
        hall.hand.say({ type: 'head-count', n: n % 100 }).catch(() => {});
      }
      await pause(1);
    }
    const core = ((server.cpuS() - cpuS) / SECONDS) * 100;
    await pause(500);
    rows.push([`${rooms} x ${screens}`, String(rate), median(took), percentile(took, 0.99), core]);
    for (const { hand, walls } of halls) for (const s of [hand.socket, ...walls]) s.disconnect();
    await server.close();
  }
  table(`Many rooms, one server process, ${SECONDS} s each; the load runs on the same two cores`, rows);
}
