/** Holds the promise of server/core/store.ts against each keeper. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import type { Event } from '../../shared/session/command.ts';
import { serverAt } from '../../shared/time/units.ts';
import type { ClassSummary } from '../../shared/wire/http.ts';
import { postgresStore } from '../../server/store/postgres.ts';
import { sqliteStore } from '../../server/store/sqlite.ts';
import { memoryStore } from '../../server/core/memory-store.ts';
import type { Batch, Store } from '../../server/core/store.ts';
import { testPostgres } from './postgres.ts';

const summary = (id: string, more: Partial<ClassSummary> = {}): ClassSummary => ({
  id, room: 'garden', plan: 'short', name: 'Short', startedAt: 1_000, endedAt: null, how: 'running', headCount: null, ...more,
});
const noted = (text: string): Event => ({ type: 'noted', at: serverAt(1_000), text });
const batch = (id: string, seq: number, command: string, ...texts: string[]): Batch => ({
  summary: summary(id), seq, command, events: texts.map(noted),
});

const folders: string[] = [];
afterEach(() => { for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true }); });

const engine = await testPostgres();
async function onDisk() {
  const folder = mkdtempSync(join(tmpdir(), 'hallclock-store-'));
  folders.push(folder);
  return sqliteStore(folder, () => {}, () => {});
}
const keepers: readonly [string, () => Promise<Store & { stop?: () => Promise<void> }>][] = [
  ['memory', async () => memoryStore()],
  ['SQLite', onDisk],
  ...(engine ? [['PostgreSQL', async () => postgresStore(await engine.database(), () => {})] satisfies [string, unknown]] : []),
];
afterAll(() => engine?.close());

describe.each(keepers)('%s', (_name, open) => {
  it('K8 a log comes back as it was appended, with the command of each event', async () => {
    const store = await open();
    expect(await store.append(batch('a', 1, 'c1', 'one', 'two'))).toBe('stored');
    expect(await store.append(batch('a', 3, 'c2', 'three'))).toBe('stored');
    const rows = [
      { seq: 1, command: 'c1', event: noted('one') },
      { seq: 2, command: 'c1', event: noted('two') },
      { seq: 3, command: 'c2', event: noted('three') },
    ];
    expect(await store.log('a')).toEqual(rows);
    expect(await store.latest('garden')).toEqual(rows);
    expect(await store.log('b')).toEqual([]);
    expect(await store.latest('hall')).toEqual([]);
    await store.stop?.();
  });

  it('K8 a number or a command id that is taken keeps all of a batch out', async () => {
    const store = await open();
    await store.append(batch('a', 1, 'c1', 'one'));
    expect(await store.append(batch('a', 1, 'c2', 'other'))).toBe('taken');
    expect(await store.append(batch('a', 3, 'c3', 'gap'))).toBe('taken');
    expect(await store.append(batch('a', 2, 'c1', 'again'))).toBe('taken');
    expect(await store.append(batch('b', 1, 'c1', 'again'))).toBe('taken');
    expect((await store.log('a')).length).toBe(1);
    expect((await store.classes(null, 9)).classes.map((c) => c.id)).toEqual(['a']);
    await store.stop?.();
  });

  it('K500 of two that start a class in a room, each after the one that it knows, one is stored', async () => {
    const store = await open();
    expect(await store.append({ ...batch('a', 1, 'c1', 'one'), after: null })).toBe('stored');
    expect(await store.append({ ...batch('b', 1, 'c2', 'one'), after: null })).toBe('taken');
    expect(await store.append({ ...batch('b', 1, 'c2', 'one'), after: 'a' })).toBe('stored');
    expect((await store.latest('garden')).map((row) => row.command)).toEqual(['c2']);
    await store.stop?.();
  });

  it('K9 classes are listed newest first, in pages, and closing one changes only its end', async () => {
    const store = await open();
    for (const id of ['a', 'b', 'c', 'd', 'e']) await store.append(batch(id, 1, `start ${id}`, 'x'));
    expect(await store.close(summary('b', { endedAt: 9_000, how: 'ran-out' }))).toBe(true);
    expect(await store.close(summary('z'))).toBe(false);
    const first = await store.classes(null, 2);
    const second = await store.classes(first.before, 2);
    const third = await store.classes(second.before, 2);
    expect([first, second, third].map((page) => page.classes.map((c) => c.id))).toEqual([['e', 'd'], ['c', 'b'], ['a']]);
    expect(third.before).toBeNull();
    expect(second.classes[1]).toEqual(summary('b', { endedAt: 9_000, how: 'ran-out' }));
    expect((await store.latest('garden')).length).toBe(1);
    await store.stop?.();
  });
});
