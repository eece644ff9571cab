/** Owns keeping: a backup while the server runs, putting it back, older shapes, deleting all of a class, and how long. */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import request from 'supertest';
import { expect, it } from 'vitest';
import { backup } from '../../server/keep/backup.ts';
import { restore } from '../../server/keep/restore.ts';
import { retain } from '../../server/keep/retain.ts';
import { readSettings } from '../../server/settings.ts';
import { FILE } from '../../server/store/database.ts';
import { serverAt } from '../../shared/time/units.ts';
import { report } from '../../shared/view/report.ts';
import { makeYears } from '../review/years.ts';
import { device, inside, live, newFolder, pair, serve } from '../server/serve.ts';

const few = (data: string, classes = 12) => makeYears({ data, classes, events: 20, seed: 5, until: '2026-11-20', rooms: ['garden'], different: 5 });

/** Every table of a log, row by row. */
function contents(folder: string): Record<string, unknown[]> {
  const db = new Database(join(folder, FILE), { readonly: true });
  const tables = db.prepare("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name").pluck().all() as string[];
  const all = Object.fromEntries(tables.map((t) => [t, db.prepare(`SELECT * FROM ${t} `).all().map((row) => JSON.stringify(row)).sort()]));
  db.close();
  return all;
}

it('K300 a backup is made while a server runs, with plans and all, and put back it is the same', async () => {
  const data = newFolder();
  few(data);
  mkdirSync(join(data, 'plans'));
  writeFileSync(join(data, 'plans', 'own.json'), '{"format":1}');
  const server = await serve(data);
  const screen = device(server.url, 'screen');
  const phone = device(server.url, 'phone', await pair(server.url, screen));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  const made = await backup(data, null);
  // Acknowledged before the backup is in it, what comes after is not.
  await phone.room().send({ type: 'head-count', n: 77 });
  screen.close();
  phone.close();
  await server.close();
  const files = readdirSync(made);
  expect(files).toEqual(expect.arrayContaining([FILE, 'plans']));
  expect(files.some((name) => name.startsWith('records.db') || name === 'backups')).toBe(false);
  const saved = contents(made);
  expect(saved.sessions).toHaveLength(13);
  expect(JSON.stringify(saved)).not.toContain('77}');

  const other = newFolder();
  const back = await restore(made, other);
  expect(back).toMatchObject({ classes: 13, events: saved.events?.length, before: null });
  expect(contents(other)).toEqual(saved);
  expect(readFileSync(join(other, 'plans', 'own.json'), 'utf8')).toBe('{"format":1}');
}, 60_000);

it('K301 a backup put back over a log keeps what was there beside it, and a server that runs is not robbed of its log', async () => {
  const data = newFolder();
  few(data);
  const made = await backup(data, join(newFolder(), 'copy'));
  const before = contents(data);
  const db = new Database(join(data, FILE));
  db.exec('DELETE FROM events');
  db.close();
  const server = await serve(data);
  await expect(restore(made, data)).rejects.toThrow('A server runs with this data folder. Stop it');
  await server.close();
  const back = await restore(made, data);
  expect(contents(data)).toEqual(before);
  expect(contents(back.before ?? '').events).toEqual([]);
  await expect(restore(newFolder(), data)).rejects.toThrow('There is no backup in');
  await expect(backup(newFolder(), null)).rejects.toThrow('There is no log in');
}, 60_000);

it('K302 a backup of the first released shape is brought to this one, and its class reads as ever', async () => {
  const old = newFolder();
  const db = new Database(join(old, FILE));
  db.exec(readFileSync(join(import.meta.dirname, 'first-shape/log.sql'), 'utf8'));
  db.close();
  const data = newFolder();
  await restore(old, data);
  const now = contents(data);
  const was = contents(old);
  for (const table of ['sessions', 'events', 'phones', 'time']) expect(now[table]).toEqual(was[table]);
  expect(now.answers).toEqual([]);
  const server = await serve(data);
  const rows = await server.studio.store.log('s');
  const held = report(rows.map((r) => r.event), serverAt(rows.at(-1)?.event.at ?? 0));
  expect(held).toMatchObject({ totalMs: 50_000, plannedMs: expect.any(Number), pauses: [{ lengthMs: 12_000, reason: 'form' }] });
  expect(held?.accounts.paused).toBe(12_000);
  await server.close();
}, 60_000);

it('K303 deleting a class deletes all of it: log, notes, answers, records, and the words are gone from the files', async () => {
  const data = newFolder();
  few(data);
  const secret = 'a word that stands nowhere else';
  const db = new Database(join(data, FILE));
  // As the server writes: what moves within the file leaves nothing behind.
  db.pragma('secure_delete = ON');
  db.exec('VACUUM');
  const id = db.prepare("SELECT session FROM events WHERE json_extract(event, '$.type') = 'noted' LIMIT 1").pluck().get() as string;
  db.prepare("UPDATE events SET event = json_set(event, '$.text', ?) WHERE session = ? AND json_extract(event, '$.type') = 'noted'").run(secret, id);
  db.prepare('INSERT OR REPLACE INTO answers VALUES (?, 5, 4)').run(id);
  db.close();
  expect(readFileSync(join(data, FILE)).includes(secret)).toBe(true);
  const server = await serve(data);
  await inside(server.url).get('/api/review?from=2020-01-01');
  await expect.poll(async () => (await inside(server.url).get(`/api/classes/${id}/record`)).body.record?.id, { timeout: 20_000 }).toBe(id);
  await request(server.url).delete(`/api/classes/${id}`).expect(403);
  const screen = device(server.url, 'screen');
  const cookie = await pair(server.url, screen);
  await request(server.url).delete(`/api/classes/${id}`).set('cookie', cookie).expect(200, { deleted: true });
  await request(server.url).delete(`/api/classes/${id}`).set('cookie', cookie).expect(404);
  await inside(server.url).get(`/api/classes/${id}`).expect(404);
  expect((await inside(server.url).get(`/api/classes/${id}/record`)).body.record).toBeNull();
  screen.close();
  await server.close();
  const left = JSON.stringify(contents(data));
  expect(left).not.toContain(id);
  for (const name of readdirSync(data).filter((n) => n.includes('.db'))) {
    expect([name, readFileSync(join(data, name)).includes(secret)]).toEqual([name, false]);
    expect([name, readFileSync(join(data, name)).includes(id)]).toEqual([name, false]);
  }
}, 60_000);

it('K304 what is older than the studio keeps is deleted, none while a class runs, and 0 days keep everything', async () => {
  const data = newFolder();
  few(data, 40);
  const server = await serve(data);
  const { store } = server.studio;
  const last = (await store.classes(null, 1)).classes[0]?.endedAt ?? 0;
  const gone: string[] = [];
  const needs = { store, now: () => last, removed: (ids: readonly string[]) => { gone.push(...ids); }, warn: () => {} };
  expect(await retain({ ...needs, keepDays: 3, busy: () => true })).toBe(0);
  expect(await retain({ ...needs, keepDays: 0, busy: () => false })).toBe(0);
  const removed = await retain({ ...needs, keepDays: 3, busy: () => false });
  const left = (await store.classes(null, 100)).classes;
  expect(removed).toBe(gone.length);
  expect(removed + left.length).toBe(40);
  expect(removed).toBeGreaterThan(10);
  expect(Math.min(...left.map((c) => c.endedAt ?? 0))).toBeGreaterThanOrEqual(last - 3 * 86_400_000);
  await server.close();
  expect(readSettings({})).toMatchObject({ keepDays: 730 });
  expect(readSettings({ HALLCLOCK_KEEP_DAYS: '90' })).toMatchObject({ keepDays: 90 });
  expect(readSettings({ HALLCLOCK_KEEP_DAYS: 'long' })).toMatchObject({ wrong: [expect.stringContaining('it is not a number')] });
  expect(existsSync(join(data, 'records.db'))).toBe(false);
}, 60_000);
