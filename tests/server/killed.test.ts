/** Owns a class that goes on through a killed server: the real process, real sockets, the real disk. */
import { performance } from 'node:perf_hooks';
import { afterEach, expect, it } from 'vitest';
import { view } from '../../shared/view/view.ts';
import { SEED } from '../seed.ts';
import { kills } from './kills.ts';
import { freePort, type ServerProcess, startProcess } from './process.ts';
import { type Device, device, live, newFolder, pair, sessionOf } from './serve.ts';

let running: ServerProcess | null = null;
const devices: Device[] = [];
afterEach(async () => {
  for (const d of devices.splice(0)) d.close();
  await running?.end('SIGKILL');
  running = null;
});
const join = (...args: Parameters<typeof device>): Device => {
  const made = device(...args);
  devices.push(made);
  return made;
};
/** Server time less the device's: it does not move while nothing is wrong. */
const offsetOf = (d: Device): number => (d.room().now() ?? 0) - performance.now();

it('K7 killed in the middle of a class and started again: every acknowledged command is there, at the right second, and all come back', async () => {
  const [data, port] = [newFolder(), await freePort()];
  running = await startProcess(data, port);
  const screen = join(running.url, 'screen');
  const phone = join(running.url, 'phone', await pair(running.url, screen));
  await Promise.all([screen.until(live, 'the screen'), phone.until(live, 'the phone')]);
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  await phone.until((r) => r.session !== null, 'the class');
  await phone.room().send({ type: 'go', occurrence: view(sessionOf(phone), sessionOf(phone).lastAt).occurrence });
  const before = offsetOf(screen);
  const acknowledged: string[] = [];
  for (let round = 0; round < 3; round += 1) {
    const burst = Array.from({ length: 5 }, async (_, i) => {
      const text = `note ${round} ${i}`;
      if ((await phone.room().send({ type: 'note', text })).done) acknowledged.push(text);
    });
    await Promise.race(burst);
    await running.end('SIGKILL');
    await Promise.all(burst);
    expect(await phone.room().send({ type: 'end' })).toMatchObject({ done: false, reason: 'offline' });
    expect(Math.abs(offsetOf(screen) - before)).toBeLessThan(25);
    running = await startProcess(data, port);
    await Promise.all([screen.until(live, 'the screen again'), phone.until(live, 'the phone again')]);
  }
  expect(acknowledged.length).toBeGreaterThanOrEqual(3);
  const notes = sessionOf(screen).notes.map((n) => n.text);
  expect(notes).toEqual(expect.arrayContaining(acknowledged));
  expect(new Set(notes).size).toBe(notes.length);
  expect(sessionOf(screen).over).toBeNull();
  expect(sessionOf(phone)).toEqual(sessionOf(screen));
  expect(Math.abs(offsetOf(screen) - before)).toBeLessThan(25);
  expect(await phone.room().send({ type: 'pause', reason: 'water' })).toEqual({ done: true });
});

it('K7 asked to stop, the server ends cleanly, leaves one whole file behind, and the phone need not pair again', async () => {
  const [data, port] = [newFolder(), await freePort()];
  running = await startProcess(data, port);
  const screen = join(running.url, 'screen');
  const phone = join(running.url, 'phone', await pair(running.url, screen));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  expect(await running.end('SIGTERM')).toBe(0);
  running = await startProcess(data, port);
  await phone.until((r) => live(r) && r.session?.plan.id === 'quarter-hour', 'the class again');
  expect(await phone.room().send({ type: 'end' })).toEqual({ done: true });
});

it('K7 killed at random moments, while starting too: no acknowledged command is lost, none acts twice, the database is whole', async () => {
  const result = await kills(8, SEED, false);
  expect(result, `seed ${SEED}`).toMatchObject({ kills: 8, lost: [], twice: [], broken: [] });
  expect(result.acknowledged, `seed ${SEED}`).toBeGreaterThan(0);
});
