/** Starts the kiosk's own page before there is a server, and looks at what the script would start. */
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { studio } from './studio.ts';
import { expect, test } from './test.ts';

const kiosk = join(import.meta.dirname, '../../server/deploy/kiosk');

test('K430 the kiosk waits for a server that is not there yet, and goes to its screen when it is', async ({ browser }) => {
  const hall = await studio([]);
  const screen = await (await browser.newContext()).newPage();
  await screen.goto(`file://${kiosk}/wait.html#${hall.url}/screen`);
  await expect(screen.getByText('Looking for the studio')).toBeVisible();
  await hall.start();
  await expect(screen.locator('.doors .title')).toBeVisible({ timeout: 60_000 });
  expect(screen.url()).toBe(`${hall.url}/screen`);
  await hall.close();
});

test('K431 the kiosk script starts one full screen with sound allowed, and says what is missing', () => {
  const script = join(kiosk, 'screen.sh');
  const home = mkdtempSync(join(tmpdir(), 'hallclock-kiosk-'));
  const env = { PATH: process.env.PATH ?? '', HOME: home, HALLCLOCK_SHOW: 'yes', HALLCLOCK_BROWSER: '/bin/echo' };
  const words = execFileSync('/bin/sh', [script, 'http://192.0.2.1:8080/screen/garden'], { env, encoding: 'utf8' }).split('\n');
  expect(words[0]).toBe('/bin/echo');
  for (const flag of ['--kiosk', '--autoplay-policy=no-user-gesture-required', '--noerrdialogs']) expect(words).toContain(flag);
  const page = words.find((w) => w.startsWith('file://')) ?? '';
  expect(page).toMatch(/wait\.html#http:\/\/192\.0\.2\.1:8080\/screen\/garden$/);
  expect(existsSync(page.replace('file://', '').replace(/#.*/, ''))).toBe(true);
  const none = spawnSync('/bin/sh', [script], { env, encoding: 'utf8' });
  expect([none.status, none.stderr]).toEqual([2, expect.stringContaining('Which address?')]);
  const wrong = spawnSync('/bin/sh', [script, 'the studio'], { env, encoding: 'utf8' });
  expect([wrong.status, wrong.stderr]).toEqual([2, expect.stringContaining('is no address')]);
  rmSync(home, { recursive: true, force: true });
});
