/** Owns a wall clock that is set by an hour while a class runs: the real process, told another time by libfaketime where that is installed. */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { freePort, launch } from './process.ts';
import { type Device, device, live, newFolder, pair, sessionOf } from './serve.ts';

const closing: (() => unknown)[] = [];
afterEach(async () => { for (const close of closing.splice(0).reverse()) await close(); });

/** Where Debian's package libfaketime lies; null where it is not installed. */
function library(): string | null {
  for (const folder of existsSync('/usr/lib') ? readdirSync('/usr/lib') : []) {
    const file = join('/usr/lib', folder, 'faketime', 'libfaketime.so.1');
    if (existsSync(file)) return file;
  }
  return null;
}
const offsetOf = (d: Device): number => (d.room().now() ?? 0) - performance.now();
const pause = (ms: number) => new Promise<void>((resolve) => { setTimeout(resolve, ms); });

it('K17 a wall clock that is set by an hour, there or back, while a class runs moves nothing, a restart included', async (context) => {
  const fake = library();
  if (fake === null) return context.skip('not run: the Debian package faketime is not installed');
  const [data, port] = [newFolder(), await freePort()];
  const [clock, told] = [join(data, 'wall-clock'), () => spawnSync('date', ['+%s'], { env: { ...process.env, ...env } }).stdout.toString()];
  const env = { LD_PRELOAD: fake, FAKETIME_TIMESTAMP_FILE: clock, FAKETIME_NO_CACHE: '1', FAKETIME_DONT_FAKE_MONOTONIC: '1' };
  const before = Object.entries(env).map(([name, value]) => `${name}="${value}"`).join(' ');
  writeFileSync(clock, '+0\n');
  let server = launch(data, port, { before });
  closing.push(() => server.end('SIGKILL'));
  await server.listening;
  const url = `http://127.0.0.1:${port}`;
  const screen = device(url, 'screen');
  const phone = device(url, 'phone', await pair(url, screen));
  closing.push(screen.close, phone.close);
  await Promise.all([screen.until(live, 'the screen'), phone.until(live, 'the phone')]);
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  await screen.until((r) => r.session !== null, 'the class');
  const offset = offsetOf(screen);
  for (const [k, step] of ['+3600', '-3600', '+0'].entries()) {
    writeFileSync(clock, `${step}\n`);
    expect(Math.abs(Number(told()) - Date.now() / 1_000 - Number(step)), 'the wall clock is set').toBeLessThan(3);
    const from = performance.now();
    screen.link.wake();
    expect(await phone.room().send({ type: 'note', text: step })).toEqual({ done: true });
    await pause(700);
    await screen.until((r) => r.seq === k + 2, 'the note');
    const { lastAt } = sessionOf(screen);
    expect(Math.abs(lastAt - offset - from)).toBeLessThan(100);
    expect(Math.abs(offsetOf(screen) - offset)).toBeLessThan(20);
    if (step !== '-3600') continue;
    // The class goes on by the monotonic clock of this boot, not by the wall clock.
    await server.end('SIGKILL');
    server = launch(data, port, { before });
    await server.listening;
    await screen.until(live, 'the screen again');
    await phone.until(live, 'the phone again');
    await pause(500);
    expect(Math.abs(offsetOf(screen) - offset)).toBeLessThan(20);
  }
});
