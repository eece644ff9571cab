/** Owns one class on two real sockets: a screen and a phone, the real server between them. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import { view } from '../../shared/view/view.ts';
import { type Device, device, live, newFolder, pair, serve, sessionOf } from './serve.ts';

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

async function both() {
  const screen = join(server.url, 'screen');
  const phone = join(server.url, 'phone', await pair(server.url, screen));
  await Promise.all([screen.until(live, 'the screen'), phone.until(live, 'the phone')]);
  return { screen, phone };
}

it('W1 what the phone commands, the screen shows; both fold the same news to the same class', async () => {
  const { screen, phone } = await both();
  expect(await phone.room().send({ type: 'start', plan: 'forty-twenty', freeAt: null })).toEqual({ done: true });
  await screen.until((r) => r.session !== null, 'the class');
  const { occurrence } = view(sessionOf(screen), server.studio.clock.now());
  expect(await phone.room().send({ type: 'go', occurrence })).toEqual({ done: true });
  expect(await screen.room().send({ type: 'pause', reason: null })).toEqual({ done: true });
  await screen.until((r) => r.seq === 3, 'three events');
  await phone.until((r) => r.seq === 3, 'three events');
  expect(phone.room().session).toEqual(screen.room().session);
  expect(phone.room().session).toEqual(server.studio.hall('garden')?.core.session());
  const apartMs = Math.abs((phone.room().now() ?? 0) - server.studio.clock.now());
  expect(apartMs).toBeLessThan((phone.room().errorMs() ?? 0) + 2);
});

it('R1 a phone that was not paired does not join, and a screen may start, go, pause, carry on and stop, and nothing that changes or ends a class', async () => {
  const stranger = join(server.url, 'phone');
  const refused = await stranger.until((r) => r.link.state === 'refused', 'the refusal');
  expect(refused.link).toMatchObject({ reason: { reason: 'not-allowed' } });
  const screen = join(server.url, 'screen');
  await screen.until(live, 'the screen');
  expect(await screen.room().send({ type: 'end' })).toMatchObject({ done: false, reason: 'not-allowed' });
  expect(await screen.room().send({ type: 'pause', reason: null })).toMatchObject({ done: false, reason: 'no-class' });
  expect(await screen.room().tell({ do: 'late' })).toMatchObject({ sentence: expect.any(String) });
  expect(await screen.room().send({ type: 'start', plan: 'forty-twenty', freeAt: null })).toMatchObject({ done: true });
  expect(await screen.room().send({ type: 'note', text: 'n' })).toMatchObject({ done: false, reason: 'not-allowed' });
});
