/**
 * Owns the model of a power cut: what lies behind the last acknowledged commit in the
 * write-ahead log is cut off, garbled or followed by rubbish, and the file is opened again.
 */
import { copyFileSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { CannotOpen, FILE, keeper, openDatabase } from '../../server/store/database.ts';
import type { Batch } from '../../server/core/store.ts';
import { serverAt } from '../../shared/time/units.ts';
import { chanceFrom } from './kills.ts';
import { newFolder } from './serve.ts';

const SEEDS = Number(process.env.HALLCLOCK_SEEDS ?? 8);
/** The write-ahead log: a head of 32 bytes, then frames of 24 bytes and a page. https://www.sqlite.org/fileformat2.html, section 4 */
const WAL_HEAD = 32;

const batch = (n: number, text: string): Batch => ({
  summary: { id: 'c', room: 'garden', plan: 'p', name: 'P', startedAt: 1, endedAt: null, how: 'running', headCount: null } as unknown as Batch['summary'],
  seq: n, command: `command ${n}`, events: [{ type: 'noted', at: serverAt(n), text }],
});
const warn = () => {};
const textsIn = (folder: string): string[] => {
  const { db, readOnly } = openDatabase(folder);
  expect(readOnly).toBeNull();
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
  const texts = keeper(db, warn).log('c').map((row) => (row.event as { text: string }).text);
  expect(keeper(db, warn).append(batch(texts.length + 1, 'goes on'))).toBe('stored');
  db.close();
  return texts;
};

/** A file and its newest part after so many commands, and where the last acknowledged commit ends. */
function written(chance: () => number) {
  const from = newFolder();
  const { db } = openDatabase(from);
  const keep = keeper(db, warn);
  const texts: string[] = [];
  const n = 1 + Math.floor(chance() * 40);
  for (let k = 1; k <= n; k += 1) {
    texts.push('x'.repeat(Math.floor(chance() * 280)));
    expect(keep.append(batch(k, texts[k - 1] ?? ''))).toBe('stored');
  }
  const wal = join(from, `${FILE}-wal`);
  const acknowledged = statSync(wal).size;
  const before = readFileSync(wal);
  // One more is under way when the power goes: it was never acknowledged.
  keep.append(batch(n + 1, 'under way'));
  const after = readFileSync(wal);
  const main = readFileSync(join(from, FILE));
  db.close();
  expect(after.subarray(0, acknowledged).equals(before)).toBe(true);
  return { texts, acknowledged, main, after };
}

const damages: Readonly<Record<string, (wal: Buffer, end: number, chance: () => number) => Buffer>> = {
  'cut off': (wal, end, chance) => wal.subarray(0, end + Math.floor(chance() * (wal.length - end))),
  garbled: (wal, end, chance) => {
    const out = Buffer.from(wal);
    const from = end + Math.floor(chance() * (out.length - end));
    for (let i = from; i < out.length; i += 1 + Math.floor(chance() * 40)) out[i] = ((out[i] ?? 0) + 1 + Math.floor(chance() * 255)) & 0xff;
    return out;
  },
  zeroed: (wal, end, chance) => Buffer.from(wal).fill(0, end + Math.floor(chance() * (wal.length - end))),
  'followed by rubbish': (wal, end, chance) => {
    const tail = Buffer.alloc(1 + Math.floor(chance() * 20_000));
    for (let i = 0; i < tail.length; i += 1) tail[i] = Math.floor(chance() * 256);
    return Buffer.concat([wal.subarray(0, end), tail]);
  },
  'an old frame again': (wal, end) => Buffer.concat([wal.subarray(0, end), wal.subarray(WAL_HEAD, end)]),
};

it.each(Object.entries(damages))('K15 a write-ahead log %s behind the last acknowledged commit opens with every acknowledged command', (what, damage) => {
  for (let seed = 1; seed <= SEEDS; seed += 1) {
    const chance = chanceFrom(seed);
    const { texts, acknowledged, main, after } = written(chance);
    const folder = newFolder();
    writeFileSync(join(folder, FILE), main);
    writeFileSync(join(folder, `${FILE}-wal`), damage(after, acknowledged, chance));
    const found = textsIn(folder);
    expect(found.slice(0, texts.length), `${what}, seed ${seed}`).toEqual(texts);
    // What was under way is there whole or not at all.
    expect([[], ['under way']], `${what}, seed ${seed}`).toContainEqual(found.slice(texts.length));
  }
});

it('K13 a file that is cut off or garbled anywhere is opened whole or refused and left as it is; it is never begun afresh', () => {
  const source = newFolder();
  const { db } = openDatabase(source);
  const keep = keeper(db, warn);
  const texts = Array.from({ length: 200 }, (_, k) => `${k} ${'y'.repeat(200)}`);
  texts.forEach((text, k) => { keep.append(batch(k + 1, text)); });
  db.close();
  const whole = readFileSync(join(source, FILE));
  let refused = 0;
  for (let seed = 1; seed <= SEEDS; seed += 1) {
    const chance = chanceFrom(seed);
    const folder = newFolder();
    const file = join(folder, FILE);
    copyFileSync(join(source, FILE), file);
    const from = Math.floor(chance() * whole.length);
    const cut = seed % 2 === 0;
    const rubbish = Buffer.from(whole);
    for (let i = from; i < Math.min(whole.length, from + 5_000); i += 1) rubbish[i] = Math.floor(chance() * 256);
    const damaged = cut ? whole.subarray(0, from) : rubbish;
    writeFileSync(file, damaged);
    try {
      const opened = openDatabase(folder);
      const found = keeper(opened.db, warn).log('c').map((row) => (row.event as { text: string }).text);
      opened.db.close();
      expect(cut, `seed ${seed}: a file that was cut off at ${from} was opened`).toBe(false);
      expect(found, `seed ${seed}`).toHaveLength(texts.length);
    } catch (error) {
      expect(error, `seed ${seed}, from ${from}`).toBeInstanceOf(CannotOpen);
      expect((error as Error).message).toMatch(/was left as it is\. Move the whole data folder away/);
      refused += 1;
      expect(readFileSync(file).equals(damaged), `seed ${seed}`).toBe(true);
    }
  }
  expect(refused).toBeGreaterThan(SEEDS / 2);
});
