/** Owns what happens when the disk is full, may not be written, or holds a damaged log. */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import request from 'supertest';
import { afterEach, expect, it } from 'vitest';
import { FILE } from '../../server/store/database.ts';
import { freePort, type ServerProcess, startProcess } from './process.ts';
import { type Device, device, inside, live, newFolder, pair, serve, sessionOf } from './serve.ts';

let running: ServerProcess | null = null;
const devices: Device[] = [];
afterEach(async () => {
  for (const d of devices.splice(0)) d.close();
  await running?.end('SIGKILL');
  running = null;
});
const joinAs = (...args: Parameters<typeof device>): Device => {
  const made = device(...args);
  devices.push(made);
  return made;
};

/** A folder with a class in it that was stopped cleanly. */
async function folderWithClass(notes: number): Promise<string> {
  const data = newFolder();
  const server = await serve(data);
  const screen = joinAs(server.url, 'screen');
  const phone = joinAs(server.url, 'phone', await pair(server.url, screen));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  await phone.until((r) => r.session !== null, 'the class');
  for (let i = 0; i < notes; i += 1) await phone.room().send({ type: 'note', text: `note ${i}` });
  for (const d of devices.splice(0)) d.close();
  await server.close();
  return data;
}

it('K5 on a full disk a tap is refused with words, the class keeps its clock, nothing stored is harmed, and it goes on when there is room', async () => {
  const [data, port] = [newFolder(), await freePort()];
  // Files may not grow beyond 160 kB, which fails as a full disk does: in the middle of a write.
  running = await startProcess(data, port, "trap '' XFSZ; ulimit -f 320;");
  const screen = joinAs(running.url, 'screen');
  const phone = joinAs(running.url, 'phone', await pair(running.url, screen));
  await phone.until(live, 'the phone');
  expect(await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null })).toEqual({ done: true });
  await phone.until((r) => r.session !== null, 'the class');
  let stored = 0;
  let last = await phone.room().send({ type: 'note', text: 'first' });
  while (last.done && stored < 200) {
    stored += 1;
    last = await phone.room().send({ type: 'note', text: 'x'.repeat(250) });
  }
  expect(last).toMatchObject({ done: false, reason: 'not-stored', sentence: expect.stringContaining('The class goes on') });
  expect(running.said()).toMatch(/whether a command was written|could not be written/);
  expect(await phone.room().send({ type: 'pause', reason: null })).toMatchObject({ reason: 'not-stored' });
  expect(screen.room().link.state).toBe('live');
  expect(sessionOf(screen).notes.length).toBe(stored);
  expect(sessionOf(screen).pause).toBeNull();
  // Asking writes one page; what room there was for that is used up soon.
  const health = [];
  for (let i = 0; i < 6; i += 1) health.push((await request(running.url).get('/api/health')).body.database);
  expect(health.at(-1)).toBe('not writable');
  await running.end('SIGKILL');
  running = await startProcess(data, port);
  await phone.until((r) => live(r) && r.seq === stored + 1, 'the class again');
  expect(await phone.room().send({ type: 'pause', reason: null })).toEqual({ done: true });
});

it('K5 in a folder that may not be written the log can be read, a tap is refused, and the folder is left as it is', async (context) => {
  const data = await folderWithClass(2);
  const before = readFileSync(join(data, FILE));
  // Root may write everywhere; a mount for reading only stands in for the folder's rights.
  const place = newFolder();
  const root = process.getuid?.() === 0;
  const shut = root ? [['mount', '--bind', data, place], ['mount', '-o', 'remount,ro,bind', place]]
    : [['cp', join(data, FILE), place], ['chmod', '400', join(place, FILE)], ['chmod', '500', place]];
  try {
    for (const [command = '', ...args] of shut) execFileSync(command, args, { stdio: 'pipe' });
  } catch (error) {
    return context.skip(`not run: this machine allows root no mount (${String(error).split('\n')[0]}); run it as another user`);
  }
  try {
    const port = await freePort();
    running = await startProcess(place, port);
    expect(running.said()).toContain('cannot be written');
    const screen = joinAs(running.url, 'screen');
    await screen.until((r) => live(r) && r.seq === 3, 'the class');
    expect(await screen.room().send({ type: 'pause', reason: null })).toMatchObject({ reason: 'not-stored' });
    expect((await request(running.url).get('/api/health')).body).toMatchObject({ database: 'not writable' });
    await running.end('SIGTERM');
    running = null;
  } finally {
    if (root) execFileSync('umount', [place], { stdio: 'pipe' });
    else execFileSync('chmod', ['700', place]);
  }
  expect(readFileSync(join(data, FILE)).equals(before)).toBe(true);
});

it('K13 a damaged, cut off, emptied or missing log is refused with what to do, and is left as it is', async () => {
  const good = await folderWithClass(20);
  const whole = readFileSync(join(good, FILE));
  const damages: readonly [string, (file: string) => void][] = [
    ['cut off', (file) => truncateSync(file, 8_192)],
    ['emptied', (file) => truncateSync(file, 0)],
    ['garbled', (file) => writeFileSync(file, Buffer.concat([whole.subarray(0, 4_096), Buffer.alloc(whole.length - 4_096, 7)]))],
    ['no database', (file) => writeFileSync(file, 'my shopping list'.repeat(100))],
    ['missing', (file) => { rmSync(file); writeFileSync(`${file}-wal`, 'its newest part'); }],
  ];
  for (const [what, damage] of damages) {
    const data = newFolder();
    const file = join(data, FILE);
    writeFileSync(file, whole);
    damage(file);
    const before = existsSync(file) ? readFileSync(file) : null;
    await expect(serve(data), what).rejects.toThrow(/was left as it is\. Move the whole data folder away/);
    expect(existsSync(file) ? readFileSync(file) : null, what).toEqual(before);
  }
});

it('K13 a second server on the same folder is refused, and one that is newer than this one is asked for', async () => {
  const data = newFolder();
  const first = await serve(data);
  await expect(serve(data)).rejects.toThrow('another Hallclock runs with this data folder');
  await first.close();
  const db = new Database(join(data, FILE));
  db.exec('INSERT INTO migrations VALUES (99)');
  db.close();
  await expect(serve(data)).rejects.toThrow('written by a newer Hallclock');
});

it('K16 a class that cannot be read is set aside with a sentence; the room starts without it, and it is left as it is', async () => {
  const data = await folderWithClass(3);
  const spoil = (text: string) => {
    const db = new Database(join(data, FILE));
    db.prepare('UPDATE events SET event = ? WHERE seq = 3').run(text);
    db.close();
  };
  const stored = () => {
    const db = new Database(join(data, FILE), { readonly: true });
    const rows = db.prepare('SELECT e.* FROM events e JOIN sessions s ON s.id = e.session WHERE s.number = 1 ORDER BY seq').all();
    db.close();
    return rows;
  };
  for (const text of ['{"type":"noted","at":17', '{"type":"from-the-future","at":17}']) {
    spoil(text);
    const before = stored();
    const server = await serve(data);
    expect(server.warnings.join(' ')).toMatch(/The last class of room "garden" cannot be read: event 3 is not understood .* set aside and left as it is/);
    const screen = joinAs(server.url, 'screen');
    const phone = joinAs(server.url, 'phone', await pair(server.url, screen));
    await phone.until(live, 'the phone');
    expect(phone.room().session).toBeNull();
    const { id } = (await inside(server.url).get('/api/classes')).body.classes.at(-1);
    expect((await inside(server.url).get(`/api/classes/${id}`).expect(422)).body.error).toContain('event 3 is not understood');
    for (const d of devices.splice(0)) d.close();
    await server.close();
    expect(stored()).toEqual(before);
  }
  const server = await serve(data);
  const screen = joinAs(server.url, 'screen');
  const phone = joinAs(server.url, 'phone', await pair(server.url, screen));
  await phone.until(live, 'the phone');
  expect(await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null })).toEqual({ done: true });
  for (const d of devices.splice(0)) d.close();
  await server.close();
});
