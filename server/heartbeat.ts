/**
 * Owns the sign of life of all connections. The library gives each connection a timer
 * of its own, and in an idle studio waking up for each of them is most of the work; here
 * many are pinged in one turn. An answer puts the library's own timer off, so that it fires
 * only for a connection that has said nothing: that one is pinged again and then dropped.
 */
import type { Server } from 'socket.io';

export const BEAT_MS = 15_000;
/** A connection that says nothing for so long is gone, and no screen of the room any more: 21 s in all. Devices notice sooner, by their clock samples. */
export const SILENT_PING_MS = 16_000;
export const SILENT_DROP_MS = 5_000;
/** So many in one turn, or one of so many parts: a turn stays under a few milliseconds, and all are done before the next beat. */
const TOGETHER = 40;
const PARTS = 100;
const PART_GAP_MS = 100;

/** Pings every connection each `beatMs`. Gives the way to stop it. */
export function beat(io: Pick<Server, 'sockets'>, beatMs: number): () => void {
  let timer: NodeJS.Timeout;
  const round = () => {
    let leftMs = beatMs;
    const all = io.sockets.sockets.values();
    const together = Math.max(TOGETHER, Math.ceil(io.sockets.sockets.size / PARTS));
    const part = () => {
      for (let n = 0; n < together; n += 1) {
        const next = all.next();
        if (next.done) {
          timer = setTimeout(round, leftMs);
          return;
        }
        const { conn } = next.value;
        if (conn.readyState === 'open' && conn.transport.name === 'websocket' && conn.transport.writable) conn.transport.send([{ type: 'ping' }]);
      }
      leftMs -= PART_GAP_MS;
      timer = setTimeout(part, PART_GAP_MS);
    };
    part();
  };
  timer = setTimeout(round, beatMs);
  return () => clearTimeout(timer);
}
