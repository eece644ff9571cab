/** Holds one room that two servers keep in one log: whoever decides, there is one history, and both know it. */
import { afterAll, describe, expect, it } from 'vitest';
import { memoryStore } from '../../server/core/memory-store.ts';
import { type Answer, openRoom, type RoomCore, runs } from '../../server/core/room.ts';
import type { Store } from '../../server/core/store.ts';
import { plan, start } from '../../server/core/world.ts';
import { postgresStore } from '../../server/store/postgres.ts';
import { factsOf } from '../../shared/plan/facts.ts';
import { replay } from '../../shared/session/evolve.ts';
import { serverAt } from '../../shared/time/units.ts';
import type { CommandMessage } from '../../shared/wire/messages/command.ts';
import { chanceOf, pick, uuid } from '../simulation/chance.ts';
import { testPostgres } from './postgres.ts';

const facts = Object.fromEntries(['squat', 'march'].map((id) => [id, factsOf({
  name: id, start: 'standing', end: 'standing', sides: 'together', option: { words: 'smaller' },
} as Parameters<typeof factsOf>[0])]));

type Shared = Store & { readonly stop?: () => Promise<void>; readonly grown?: (heard: (room: string | null) => void) => void };
const engine = await testPostgres();
/** On PostgreSQL each is a commit; HALLCLOCK_PRESSES=10000 presses as often as in memory. */
const PRESSES = Number(process.env.HALLCLOCK_PRESSES ?? 400);
afterAll(() => engine?.close());

/** Two views of one memory, whose questions take their turns in any order. */
function slow(store: Store, chance: () => number): Store {
  const late = <A extends readonly unknown[], T>(ask: (...args: A) => Promise<T>) => async (...args: A): Promise<T> => {
    for (let turns = Math.floor(chance() * 4); turns > 0; turns -= 1) await new Promise((resolve) => { setImmediate(resolve); });
    return ask(...args);
  };
  return { ...store, append: late(store.append), log: late(store.log), latest: late(store.latest) };
}

async function keepers(name: string, chance: () => number): Promise<readonly [Shared, Shared]> {
  if (name === 'memory') {
    const one = memoryStore();
    return [slow(one, chance), slow(one, chance)];
  }
  const url = await engine?.database() ?? '';
  return [await postgresStore(url, () => {}), await postgresStore(url, () => {})];
}

describe.each([['memory', 10_000], ...(engine ? [['PostgreSQL', PRESSES] as const] : [])] as const)('%s', (name, presses) => {
  it(`K501 two instructors on two servers press against each other ${presses} times: one line of history, which both know`, async () => {
    const chance = chanceOf(7, name);
    const stores = await keepers(name, chance);
    let at = 1_800_000_000_000;
    const now = () => serverAt(at);
    const open = (store: Shared): RoomCore => openRoom({
      id: 'garden', store, now, timer: () => () => {}, newId: () => uuid(chance),
      plan: async () => ({ plan, facts }), movement: async (id) => facts[id] ?? null, news: () => {}, changed: () => {}, warn: () => {},
    }, []);
    const rooms = [open(stores[0]), open(stores[1])] as const;
    for (const [i, store] of stores.entries()) store.grown?.(() => rooms[i]?.readOn());
    const acted = new Set<string>();
    let refused = 0;
    let retried = 0;
    const classes = new Set<string>();
    const say = async (room: RoomCore, message: CommandMessage): Promise<Answer> => {
      const answer = await room.command(message, now());
      if ('refused' in answer) refused += 1;
      else acted.add(message.id);
      const id = room.log()?.id;
      if (id !== undefined) classes.add(id);
      return answer;
    };
    const message = (room: RoomCore): CommandMessage => {
      const session = room.session();
      const over = !runs(session, now());
      const presses = [{ type: 'pause', reason: null }, { type: 'carry-on', pause: session?.pause?.number ?? 1 }, { type: 'head-count', n: Math.floor(chance() * 20) }, { type: 'note', text: 'again' }] as const;
      const command: CommandMessage['command'] = over ? start : chance() < 0.02 ? { type: 'end' } : pick<(typeof presses)[number]>(chance, presses);
      return { id: uuid(chance), session: over ? null : (session?.id ?? null), saidAt: null, command };
    };
    for (let n = 0; n < presses; n += 2) {
      at += 40;
      const messages = rooms.map(message);
      await Promise.all(rooms.map((room, i) => say(room, messages[i] ?? message(room))));
      // An answer that was lost: the phone says it again, through the other server.
      if (n % 50 === 0 && messages[0]) {
        rooms[1].readOn();
        const again = await rooms[1].command(messages[0], now());
        // What was refused by the one may act through the other.
        if (!('refused' in again)) acted.add(messages[0].id);
        const kept = (await Promise.all([...classes].slice(-3).map((id) => stores[0].log(id)))).flat().some((row) => row.command === messages[0]?.id);
        if (kept && 'refused' in again) throw new Error(`acted once, refused at the second: ${again.refused.reason}`);
        retried += kept ? 1 : 0;
      }
    }
    const logs = await Promise.all([...classes].map((id) => stores[0].log(id)));
    const rows = logs.flat();
    expect(acted.size).toBeGreaterThan(presses / 5);
    expect(refused).toBeGreaterThan(0);
    expect(retried).toBeGreaterThan(0);
    // Nothing lost, nothing twice, nothing that nobody was told.
    const changing = new Set(rows.map((row) => row.command));
    expect([...changing].every((command) => acted.has(command))).toBe(true);
    for (const log of logs) {
      expect(log.map((row) => row.seq)).toEqual(log.map((_row, i) => i + 1));
      expect(() => replay(log.map((row) => row.event))).not.toThrow();
    }
    // Both know it all: the next press goes through whichever is behind.
    for (const room of rooms) {
      room.readOn();
      await say(room, message(room));
    }
    rooms[0].readOn();
    await say(rooms[0], { ...message(rooms[0]), command: { type: 'note', text: 'last' } });
    const latest = await stores[1].latest('garden');
    expect(rooms[0].log()?.events).toEqual(latest.map((row) => row.event));
    for (const room of rooms) await room.stop();
    for (const store of stores) await store.stop?.();
  });
});
