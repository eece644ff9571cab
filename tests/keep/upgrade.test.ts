/** Owns going to another version and back: a data folder of the first released shape, the server of today on it, and the way back. */
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { restore } from '../../server/keep/restore.ts';
import { beforeUpgrade } from '../../server/keep/upgrade.ts';
import { FILE } from '../../server/store/database.ts';
import { earlierStart } from '../inside.ts';
import { device, inside, live, newFolder, pair, serve } from '../server/serve.ts';

const stored = (data: string): unknown[] => {
  const db = new Database(join(data, FILE), { readonly: true });
  const rows = ['sessions', 'events', 'phones', 'migrations'].map((t) => db.prepare(`SELECT * FROM ${t}`).all());
  db.close();
  return rows;
};
/** As the first released version left it. */
function oldFolder(): string {
  const data = newFolder();
  mkdirSync(join(data, 'plans'), { recursive: true });
  writeFileSync(join(data, 'plans', 'own.json'), '{"format":1}');
  earlierStart(data);
  const db = new Database(join(data, FILE));
  db.exec(readFileSync(join(import.meta.dirname, 'first-shape/log.sql'), 'utf8'));
  db.close();
  return data;
}

it('K412 another version copies all that was there before it changes anything; its class, phones and plans are there, and a class goes on; put back, all is as the old one left it', async () => {
  const data = oldFolder();
  const before = stored(data);
  const server = await serve(data);
  const screen = device(server.url, 'screen');
  const phone = device(server.url, 'phone', await pair(server.url, screen));
  await phone.until(live, 'the phone');
  expect(await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null })).toEqual({ done: true });
  const { classes } = (await inside(server.url).get('/api/classes').expect(200)).body as { classes: { id: string }[] };
  expect(classes.map((c) => c.id)).toContain('s');
  screen.close();
  phone.close();
  await server.close();
  const copy = join(data, 'backups', 'before-test');
  expect(stored(copy)).toEqual(before);
  expect(readFileSync(join(copy, 'plans', 'own.json'), 'utf8')).toBe('{"format":1}');

  // A second start of the same version copies nothing, and the class that ran goes on.
  rmSync(copy, { recursive: true });
  const again = await serve(data);
  expect(again.studio.hall('garden')?.core.session()?.plan.id).toBe('quarter-hour');
  await again.close();
  expect(existsSync(copy)).toBe(false);
}, 120_000);

it('K413 going back is putting the copy back under the old version: nothing of before is lost, and what came after is kept beside it', async () => {
  const data = oldFolder();
  const before = stored(data);
  const warned: string[] = [];
  const copy = await beforeUpgrade(data, '9.0.0+build', (w) => { warned.push(w); });
  expect([copy, warned, await beforeUpgrade(data, '9.0.0+another', () => {})]).toEqual([join(data, 'backups', 'before-9.0.0'), [], null]);
  const db = new Database(join(data, FILE));
  db.exec("INSERT INTO sessions VALUES (2, 'after', 'garden', 'small', 'Small class', 1760000000000, 1760000050000, 'ended', 3)");
  db.exec('INSERT INTO migrations VALUES (99)');
  db.close();
  // What the old version does with the newer log; on a copy, since one that is refused holds it until its process ends.
  const refused = newFolder();
  cpSync(data, refused, { recursive: true });
  await expect(serve(refused)).rejects.toThrow('written by a newer Hallclock');
  const back = await restore(copy ?? '', data);
  expect(stored(data).slice(0, 3)).toEqual(before.slice(0, 3));
  expect(readFileSync(join(back.before ?? '', FILE), 'latin1')).toContain('aftergardensmall');
  expect(readdirSync(join(data, 'plans'))).toEqual(['own.json']);

  // Where nothing can be copied, that is said, and the start goes on.
  const broken = oldFolder();
  writeFileSync(join(broken, FILE), 'not a log');
  expect(await beforeUpgrade(broken, '9.0.0', (w) => { warned.push(w); })).toBeNull();
  expect(warned).toEqual([expect.stringContaining('no copy could be made of what was there')]);
  expect(readdirSync(join(broken, 'backups'))).toEqual([]);
}, 120_000);
