/** Owns the bench of what classes cost that run while nobody presses anything, beside as many idle bare connections. */
import type { Socket } from 'socket.io-client';
import { connect, hallclock, joinAs, pause, phoneIn, relay, type Running } from './server.ts';
import { median, table } from './table.ts';

/** As long as a bare connection's time between heartbeats. */
const WINDOW_MS = 25_000;
const ROUNDS = 5;
const SETTLE_MS = 15_000;
/** Of very many classes only so many phones stay connected; the classes run all the same. */
const PHONES_MOST = 200;

/** Per cent of one core over a window. */
async function cpu(server: Running): Promise<number> {
  const from = server.cpuS();
  await pause(WINDOW_MS);
  return ((server.cpuS() - from) / (WINDOW_MS / 1_000)) * 100;
}

export async function run(): Promise<void> {
  const rows: (string | number)[][] = [['', 'classes', 'connections', '% of a core', 'messages a minute']];
  for (const [classes, screens] of [[1, 3], [100, 3], [200, 9], [5_000, 0]] as const) {
    const rooms = Array.from({ length: classes }, (_, k) => `r${k}`);
    const ours = await hallclock(rooms);
    const bare = await relay(false);
    const sockets: Socket[] = [];
    let heard = 0;
    for (const room of rooms) {
      const { socket } = await phoneIn(ours.url, room);
      if (sockets.length < PHONES_MOST * (screens + 1)) sockets.push(socket);
      else socket.disconnect();
      for (let k = 0; k < screens; k += 1) sockets.push((await joinAs(ours.url, 'screen', room)).socket);
    }
    // One after the other, as ours came: connections that came together would beat together.
    const idle: Socket[] = [];
    for (let k = 0; k < sockets.length; k += 1) idle.push(await connect(bare.url));
    // What was needed to come is tidied up before anything is measured.
    await pause(SETTLE_MS);
    for (const s of sockets) s.onAny(() => { heard += 1; });
    const [mine, theirs]: [number[], number[]] = [[], []];
    for (let round = 0; round < ROUNDS; round += 1) {
      const [a, b] = await Promise.all([cpu(ours), cpu(bare)]);
      mine.push(a);
      theirs.push(b);
    }
    const minutes = (ROUNDS * WINDOW_MS) / 60_000;
    rows.push(['ours', String(classes), String(sockets.length), median(mine), heard / minutes], ['bare', '0', String(idle.length), median(theirs), 0]);
    for (const s of [...sockets, ...idle]) s.disconnect();
    await ours.close();
    await bare.close();
  }
  table(`Classes that run while nobody presses anything; median of ${ROUNDS} windows of ${WINDOW_MS / 1_000} s (heartbeats of the sockets included)`, rows);
}
