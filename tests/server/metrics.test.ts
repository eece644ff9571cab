/** Owns the numbers for those who watch, as a real server gives them. */
import request from 'supertest';
import { afterEach, expect, it } from 'vitest';
import { device, live, newFolder, pair, serve } from './serve.ts';

let server: Awaited<ReturnType<typeof serve>>;
afterEach(() => server.close());

it('K400 whoever watches gets numbers that Prometheus reads, of the process, the classes and the commands, and no name of anybody', async () => {
  server = await serve(newFolder());
  const screen = device(server.url, 'screen');
  const phone = device(server.url, 'phone', await pair(server.url, screen));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null, instructor: 'Ana' });
  const refused = await phone.room().send({ type: 'carry-on', pause: 9 });
  if (refused.done) throw new Error('carried on without a pause');
  const { text, headers } = await request(server.url).get('/metrics').expect(200);
  expect(headers['content-type']).toContain('text/plain; version=0.0.4');
  const lines = new Map(text.split('\n').filter((l) => l !== '' && !l.startsWith('#')).map((l) => [l.slice(0, l.lastIndexOf(' ')), Number(l.slice(l.lastIndexOf(' ') + 1))]));
  expect([...lines.values()].every(Number.isFinite)).toBe(true);
  expect(lines.get('hallclock_classes_running')).toBe(1);
  expect(lines.get('hallclock_connections')).toBe(2);
  expect(lines.get('hallclock_commands_total{outcome="stored"}')).toBe(1);
  expect(lines.get(`hallclock_commands_total{outcome="${refused.reason}"}`)).toBe(1);
  expect(lines.get('hallclock_command_seconds_count')).toBe(2);
  expect(text).not.toMatch(/Ana|quarter-hour|garden/);
  screen.close();
  phone.close();
});

it('K400 only this machine itself may ask for the numbers', async () => {
  server = await serve(newFolder());
  const ask = (remoteAddress: string) => new Promise<number>((resolve) => {
    const response = { status: (s: number) => ({ type: () => ({ send: () => resolve(s) }) }), type: () => ({ send: () => resolve(200) }) };
    void server.studio.metrics.route({ socket: { remoteAddress } } as never, response as never, () => {});
  });
  expect([await ask('192.168.1.77'), await ask('::ffff:127.0.0.1')]).toEqual([403, 200]);
});
