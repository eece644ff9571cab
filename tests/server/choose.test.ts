/** Owns laying out a plan before the class: what the phone does, the doors of the screen show. */
import { afterEach, beforeEach, it } from 'vitest';
import { type Device, device, live, newFolder, pair, serve } from './serve.ts';

let server: Awaited<ReturnType<typeof serve>>;
let devices: Device[] = [];
const join = (...args: Parameters<typeof device>): Device => {
  const made = device(...args);
  devices.push(made);
  return made;
};

beforeEach(async () => { server = await serve(newFolder()); });
afterEach(async () => {
  for (const d of devices) d.close();
  devices = [];
  await server.close();
});

it('W30 what a phone lays out stands at the doors until it is put back or a class starts; a screen lays nothing out', async () => {
  const screen = join(server.url, 'screen');
  const phone = join(server.url, 'phone', await pair(server.url, screen));
  await Promise.all([screen.until(live, 'the screen'), phone.until(live, 'the phone')]);
  phone.room().choose('forty-twenty');
  await screen.until((r) => r.about?.chosen === 'forty-twenty', 'the plan');
  phone.room().choose(null);
  await screen.until((r) => r.about?.chosen === null, 'no plan');
  screen.room().choose('forty-twenty');
  phone.room().choose('first-steps');
  await screen.until((r) => r.about?.chosen === 'first-steps', 'the phone\'s plan');
  await phone.room().send({ type: 'start', plan: 'first-steps', freeAt: null });
  await screen.until((r) => r.session !== null && r.about?.chosen === null, 'the class in its place');
});
