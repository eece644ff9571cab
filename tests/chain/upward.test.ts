/** Holds the copy of a studio's log to the chain on a way that loses, doubles, holds back and cuts, with both ends on real keepers. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { heardLogSchema, HOUSE_SPEAKS, type LogTaken, type SendLog } from '../../shared/wire/house.ts';
import { HOUSE_CLASSES_MAX, HOUSE_MESSAGE_BYTES } from '../../shared/limits.ts';
import { type ServerAt, serverAt } from '../../shared/time/units.ts';
import { type HouseStore, NotWritten, take, whatIsHere } from '../../server/houses/receive.ts';
import type { LogStore } from '../../server/store/log-store.ts';
import { postgresStore } from '../../server/store/postgres.ts';
import { sqliteStore } from '../../server/store/sqlite.ts';
import type { Ask } from '../../server/upward/ask.ts';
import { Hindered } from '../../server/upward/hindered.ts';
import { messagesOf } from '../../server/upward/pack.ts';
import { openSender, type Sender } from '../../server/upward/send.ts';
import { againMs } from '../../server/upward/upward.ts';
import { chanceOf } from '../simulation/chance.ts';
import { SEED } from '../seed.ts';
import { testPostgres } from './postgres.ts';
import { teach, type Taught } from './teach.ts';

type LogAsk = Pick<Ask, 'have' | 'log'>;
const NOW = serverAt(1_750_000_000_000);
const HOUR_MS = 3_600_000;
const hello = { speaks: HOUSE_SPEAKS, version: 'test' } as const;
const folders: string[] = [];
const stores: LogStore[] = [];
async function onDisk(): Promise<LogStore> {
  const folder = mkdtempSync(join(tmpdir(), 'hallclock-upward-'));
  folders.push(folder);
  const store = await sqliteStore(folder, () => {}, () => {});
  stores.push(store);
  return store;
}
const engine = await testPostgres();
afterAll(async () => {
  for (const store of stores) await store.stop();
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
  await engine?.close();
});

/** The chain's end without a line between: what a message meets there. */
const receiver = (store: HouseStore, now: () => number = () => NOW, keepDays = 0): LogAsk => ({
  have: async (body) => ({ ...hello, now: now(), classes: await whatIsHere(store, body.classes, keepDays, now()) }),
  log: async (body) => ({ ...hello, classes: await take(store, heardLogSchema.parse(JSON.parse(JSON.stringify(body))).classes) }),
});

/** A way that loses what is asked or what is answered, says things twice, and brings some of them later, behind newer ones. */
function badWay(to: LogAsk, chance: () => number, odds: { value: number }): { readonly ask: LogAsk; readonly settle: () => Promise<void> } {
  const held: (() => Promise<unknown>)[] = [];
  const through = async <T>(run: () => Promise<T>): Promise<T> => {
    if (held.length > 0 && chance() < 0.5) await held.shift()?.().catch(() => {});
    const luck = chance() / (odds.value || Number.MIN_VALUE);
    if (luck < 0.2) throw new Hindered('lost on the way');
    if (luck < 0.4) {
      held.push(run);
      throw new Hindered('held back until nobody waits for it');
    }
    if (luck < 0.6) {
      await run();
      throw new Hindered('the answer was lost');
    }
    if (luck < 0.8) return (await Promise.all([run(), run()]))[0];
    return run();
  };
  return {
    ask: { have: (b) => through(() => to.have(b)), log: (b) => through(() => to.log(b)) },
    settle: async () => { for (const late of held.splice(0)) await late().catch(() => {}); },
  };
}
const tryPass = (sender: Sender): Promise<boolean> => sender.pass().then(() => true, (error: unknown) => {
  if (!(error instanceof Hindered) && !(error instanceof NotWritten)) throw error;
  return false;
});

/** What both keepers have of these classes, in the order in which they were started. */
async function whole(store: LogStore, ids: ReadonlySet<string>) {
  const all = (await store.since(0, 100_000)).filter((c) => ids.has(c.id));
  return Promise.all(all.map(async ({ number: _n, ...c }) => ({ ...c, summary: await store.summary(c.id), rows: await store.log(c.id), counts: await store.answers(c.id) })));
}

const keepers: readonly [string, () => Promise<LogStore>][] = [
  ['SQLite', onDisk],
  ...(engine ? [['PostgreSQL', async () => {
    const store = await postgresStore(await engine.database(), () => {}, 'north', 4);
    stores.push(store);
    return store;
  }] satisfies [string, unknown]] : []),
];

describe.each(keepers)('to a chain on %s', (name, open) => {
  let here: LogStore;
  let there: LogStore;
  let run = 0;
  beforeAll(async () => { [here, there] = [await onDisk(), await open()]; });

  it('K510 on a way that loses, doubles, holds back and cuts, every event arrives once and in order, and none is changed', async () => {
    await fc.assert(fc.asyncProperty(fc.integer(), fc.array(fc.constantFrom('start', 'note', 'end', 'answer', 'pass', 'pass', 'restart'), { minLength: 8, maxLength: 40 }), async (seed, story) => {
      run += 1;
      const odds = { value: 1 };
      const way = badWay(receiver(there), chanceOf(seed, 'way'), odds);
      const begin = () => openSender({ store: here, ask: way.ask, version: 'test', about: { timeZone: 'UTC', rooms: [] }, now: () => NOW });
      let sender = begin();
      const ids = new Set<string>();
      let on: Taught | null = null;
      for (const [i, what] of story.entries()) {
        if (what === 'start' || on === null) {
          on = await teach(here, `${name}-${run}-${i}`, `room-${i % 2}`, serverAt(NOW - 9 * HOUR_MS + i * 60_000));
          ids.add(on.id);
        } else if (what === 'note') await on.note(3);
        else if (what === 'answer') await here.answer(on.id, i % 11);
        else if (what === 'end') {
          await on.end();
          on = null;
        } else if (what === 'restart') sender = begin();
        else await tryPass(sender);
      }
      odds.value = 0;
      expect(await tryPass(sender)).toBe(true);
      await way.settle();
      expect(await tryPass(sender)).toBe(true);
      expect([await sender.waiting(0), sender.upTo(), sender.troubles()]).toEqual([0, NOW, []]);
      expect(await whole(there, ids)).toEqual(await whole(here, ids));
    }), { numRuns: name === 'SQLite' ? 25 : 12, seed: SEED });
  }, 240_000);

  it('K511 a chain that is killed in the middle of a message has whole commands of it, and the rest follows', async () => {
    const one = await teach(here, `${name}-killed`, 'garden', NOW);
    await one.note(30);
    await one.end();
    for (const after of [1, 5, 17]) {
      let left = after;
      const dying: HouseStore = { ...there, append: (batch) => {
        left -= 1;
        return left < 0 ? Promise.resolve('failed') : there.append(batch);
      } };
      expect(await tryPass(openSender({ store: here, ask: receiver(dying), version: 'test', about: { timeZone: 'UTC', rooms: [] }, now: () => NOW }))).toBe(false);
    }
    expect((await there.log(one.id)).length).toBe(23);
    expect(await tryPass(openSender({ store: here, ask: receiver(there), version: 'test', about: { timeZone: 'UTC', rooms: [] }, now: () => NOW }))).toBe(true);
    expect(await whole(there, new Set([one.id]))).toEqual(await whole(here, new Set([one.id])));
  });
});

describe('the copy', () => {
  let here: LogStore;
  let there: LogStore;
  beforeAll(async () => { [here, there] = [await onDisk(), await onDisk()]; });
  const sender = (ask: LogAsk, now: () => ServerAt = () => NOW) => openSender({ store: here, ask, version: 'test', about: { timeZone: 'UTC', rooms: [] }, now });

  it('K512 a class in a room that is stopped does not go up until it is led back; others do', async () => {
    const stopped = await teach(here, 'stopped', 'garden', NOW);
    await stopped.say({ type: 'stop' });
    await stopped.say({ type: 'answer-stop', what: 'help' });
    const other = await teach(here, 'other', 'hall', NOW);
    const up = sender(receiver(there));
    await up.pass();
    expect([(await there.log('stopped')).length, (await there.log('other')).length, await up.waiting(0), up.upTo()]).toEqual([0, 1, 1, null]);
    expect(up.troubles().join()).toContain('stopped waits here until it is led back');
    await stopped.say({ type: 'to-paused' });
    await other.note(1);
    await up.pass();
    expect(up.troubles()).toEqual([]);
    for (const id of ['stopped', 'other']) expect(await whole(there, new Set([id]))).toEqual(await whole(here, new Set([id])));
  });

  it('K513 what is not understood, does not follow, or is another class holds up nothing else, is left as it is, and is said', async () => {
    const good = await teach(here, 'good', 'garden', NOW);
    await good.note(2);
    // Newer than the chain's server: an event that it does not know.
    const spoil = (ask: LogAsk, id: string, how: (chunk: SendLog['classes'][number]) => object): LogAsk => ({
      ...ask, log: (body) => ask.log({ ...body, classes: body.classes.map((c) => (c.id === id ? { ...c, ...how(c) } : c)) as SendLog['classes'] }),
    });
    const newer = await teach(here, 'newer', 'hall', NOW);
    await newer.note(1);
    const up = sender(spoil(receiver(there), 'newer', (c) => ({ commands: c.commands.map((command, i) => (i === 1 ? { ...command, events: [{ type: 'levitated', at: NOW }] } : command)) })));
    await up.pass();
    expect(up.troubles()).toEqual(['Class newer is not taken: the chain\'s server does not understand its event 2: it is older than this studio\'s. Bring the chain\'s up to this version.']);
    expect([(await there.log('newer')).length, (await there.log('good')).length]).toEqual([0, 3]);
    // The chain was brought up to date: it is tried again by itself.
    const brought = sender(receiver(there));
    await brought.pass();
    expect([(await there.log('newer')).length, brought.troubles()]).toEqual([2, []]);
    // The studio's data was put back from an older copy and it went on otherwise: neither is overwritten.
    await there.append({ summary: (await there.summary('good')) ?? await Promise.reject(new Error('none')), seq: 4, command: 'of another', events: [{ type: 'noted', at: NOW, text: 'another' }] });
    await good.note(2);
    const forked = sender(receiver(there));
    await forked.pass();
    expect(forked.troubles().join()).toContain('Class good is not taken: at the chain it goes on otherwise');
  });

  it('K513 a message is read as it was meant or not at all', async () => {
    const before = (await there.since(0, 1_000)).length;
    const started = (await here.log('good'))[0]?.event;
    const put = (id: string, ...events: unknown[]): Promise<LogTaken['classes']> => take(there, [{ id, from: 1, after: null, commands: [{ id: `c-${id}`, events }], closed: false, answers: [] }]);
    expect((await put('elsewhere', started))[0]?.refused).toContain('another class than it says');
    expect((await put('late', { type: 'noted', at: NOW, text: 'first' }))[0]?.refused).toContain('do not follow');
    expect((await put('twice', started, started))[0]?.refused).toContain('not');
    expect((await there.since(0, 1_000)).length).toBe(before);
  });

  it('K514 a message is filled up to its size and cut only between commands', async () => {
    const rows = await here.log('good');
    const many = Array.from({ length: 1_998 }, (_, i) => ({ seq: i + 1, command: `c${Math.floor(i / 3)}`, event: { type: 'noted' as const, at: NOW, text: 'x'.repeat(250) } }));
    async function* due() {
      yield { id: 'long', rows: many, have: 3, closed: true, answers: [{ rating: 5, n: 2 }] };
      for (let i = 0; i < 2 * HOUSE_CLASSES_MAX; i += 1) yield { id: `s${i}`, rows: rows.slice(1), have: 0, closed: false, answers: [] };
    }
    const messages: SendLog['classes'][] = [];
    for await (const message of messagesOf(due())) messages.push(message);
    expect(messages.length).toBeGreaterThan(3);
    for (const message of messages) {
      expect(heardLogSchema.safeParse({ ...hello, classes: message }).error?.issues ?? []).toEqual([]);
      expect(Buffer.byteLength(JSON.stringify(message))).toBeLessThan(HOUSE_MESSAGE_BYTES * 1.2);
    }
    const long = messages.flat().filter((c) => c.id === 'long');
    expect(long.flatMap((c) => c.commands.flatMap((k) => k.events)).length).toBe(1_995);
    expect(long.map((c) => [c.from, c.closed, c.answers.length > 0])).toEqual(long.map((_c, i) => [4 + long.slice(0, i).flatMap((c) => c.commands.flatMap((k) => k.events)).length, i === long.length - 1, i === long.length - 1]));
    expect(long.every((c) => c.commands.every((k) => k.events.length === 3))).toBe(true);
  });

  it('K540 a clock that is off is said, and hinders nothing', async () => {
    const up = sender(receiver(there, () => NOW + 3 * HOUR_MS + 120_000));
    await up.pass();
    expect(up.troubles().join()).toContain('The clock of this studio is 3 h 2 min behind the chain\'s.');
    const right = sender(receiver(there, () => NOW + 20_000));
    await right.pass();
    expect(right.troubles().join()).not.toContain('clock');
  });

  it('K541 what the chain no longer keeps is not sent to it', async () => {
    const old = await teach(here, 'old', 'garden', serverAt(NOW - 900 * 24 * HOUR_MS));
    await old.end();
    const up = sender(receiver(there, () => NOW, 730));
    await up.pass();
    expect([(await there.log('old')).length, await up.waiting(0)]).toEqual([0, 0]);
  });

  it('K542 between two tries it waits twice as long each time, to a minute at most, half of it by chance', () => {
    expect([1, 2, 3, 6, 60].map((n) => againMs(n, () => 0))).toEqual([1_000, 2_000, 4_000, 30_000, 30_000]);
    expect([1, 60].map((n) => againMs(n, () => 0.999_999))).toEqual([expect.closeTo(2_000, -1), expect.closeTo(60_000, -1)]);
  });
});
