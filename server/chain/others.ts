/**
 * Owns how many devices of each room hang on other servers, in memory. A server that is not heard
 * of for a while is gone, and its devices with it. Leaves alone those that hang here (sockets.ts).
 */
import type { Talk } from './talk.ts';

interface Present { readonly screens: number; readonly phones: number }

export interface Others {
  /** Devices of a room here and on other servers. */
  readonly and: (room: string, here: Present) => Present;
  /** So many hang here; said to the others where it changed. */
  readonly here: (room: string, screens: number, phones: number) => void;
  readonly stop: () => void;
}

const ALIVE_MS = 5_000;
const GONE_MS = 3 * ALIVE_MS;
interface Server { heardAt: number; readonly rooms: Map<string, Present> }

export const nobodyElse: Others = { and: (_room, here) => here, here: () => {}, stop: () => {} };

/** @param changed the numbers of a room on other servers are others now @param nowMs of a monotonic clock */
export function openOthers(talk: Talk, changed: (room: string) => void, nowMs: () => number): Others {
  const servers = new Map<string, Server>();
  const mine = new Map<string, Present>();
  const drop = (from: string) => {
    const gone = servers.get(from);
    servers.delete(from);
    for (const room of gone?.rooms.keys() ?? []) changed(room);
  };
  const sayAll = () => { for (const [room, count] of mine) talk.say({ say: 'present', room, ...count }); };
  const known = (from: string): Server => {
    const server = servers.get(from) ?? { heardAt: 0, rooms: new Map() };
    if (!servers.has(from)) talk.say({ say: 'hello' });
    servers.set(from, server);
    server.heardAt = nowMs();
    return server;
  };
  talk.listen((message) => {
    if (message === null) {
      talk.say({ say: 'hello' });
      return sayAll();
    }
    if (message.say === 'bye') return drop(message.from);
    const server = known(message.from);
    if (message.say === 'hello') return sayAll();
    if (message.say !== 'present') return;
    server.rooms.set(message.room, { screens: message.screens, phones: message.phones });
    changed(message.room);
  });
  const beat = setInterval(() => {
    talk.say({ say: 'alive' });
    for (const [from, { heardAt }] of servers) if (nowMs() - heardAt > GONE_MS) drop(from);
  }, ALIVE_MS);
  talk.say({ say: 'hello' });

  return {
    and: (room, here) => {
      const there = [...servers.values()].flatMap((s) => s.rooms.get(room) ?? []);
      return there.reduce((sum, r) => ({ screens: sum.screens + r.screens, phones: sum.phones + r.phones }), here);
    },
    here: (room, screens, phones) => {
      const before = mine.get(room) ?? { screens: 0, phones: 0 };
      mine.set(room, { screens, phones });
      if (before.screens !== screens || before.phones !== phones) talk.say({ say: 'present', room, screens, phones });
    },
    stop: () => {
      clearInterval(beat);
      talk.say({ say: 'bye' });
    },
  };
}
