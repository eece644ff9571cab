/** Loads a screen while its server is away, and updates the server under a screen that runs. */
import { cpSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { controls } from '../../shared/view/controls.ts';
import { device, live, pair, sessionOf } from '../server/serve.ts';
import { studio } from './studio.ts';
import { expect, test } from './test.ts';

const PATIENT = { timeout: 60_000 };
const long = {
  format: 1 as const, id: 'long', name: 'Long class', group: 'general' as const,
  sections: [{ id: 'welcome', kind: 'welcome' as const, talk: 10 }, { id: 'main', kind: 'main' as const, show: 'none' as const, rest: 10, items: [{ movement: 'squat', work: 1_200 }] }],
};

test('V458 a screen that is loaded while the server is away says so, or goes on counting its class, and follows when it is back', async ({ browser }) => {
  const hall = await studio([long]);
  await hall.start();
  const screen = await (await browser.newContext({ viewport: { width: 1280, height: 720 } })).newPage();
  await screen.goto(`${hall.url}/screen`);
  await expect(screen.locator('.doors .title')).toBeVisible();
  const isKept = () => screen.evaluate(async () => {
    const cache = await caches.open('hallclock-screen');
    const scripts = performance.getEntriesByType('resource').map((e) => e.name).filter((n) => n.includes('/screen-assets/index'));
    const found = await Promise.all(['/screen', '/api/movements', ...scripts].map((n) => cache.match(n)));
    return found.every(Boolean);
  });
  await expect.poll(isKept, PATIENT).toBe(true);

  await hall.kill();
  await screen.reload();
  await expect(screen.getByText('Looking for the studio')).toBeVisible(PATIENT);
  await hall.start();
  await expect(screen.locator('.doors .title')).toBeVisible(PATIENT);

  const eye = device(hall.url, 'screen');
  const phone = device(hall.url, 'phone', await pair(hall.url, eye));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'long', freeAt: null });
  await phone.until((r) => r.session !== null, 'the class');
  const go = controls(sessionOf(phone), phone.room().now() as never).big;
  if (go) await phone.room().send(go);
  await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work', PATIENT);
  await expect.poll(() => screen.evaluate(() => localStorage.getItem('hallclock.class')?.includes('"long"') ?? false), PATIENT).toBe(true);
  phone.close();
  eye.close();
  await hall.kill();
  await screen.reload();
  await expect(screen.locator('.class .title')).toHaveText('Squat', PATIENT);
  const seconds = () => screen.locator('.class .seconds').innerText();
  const before = await seconds();
  await expect.poll(seconds, PATIENT).not.toBe(before);
  await hall.start();
  // The server's own word again, and nothing of the other.
  await expect(screen.getByText('No connection')).toBeHidden(PATIENT);
  await expect(screen.locator('.class .title')).toHaveText('Squat');
  await hall.close();
});

test('V459 a screen loads itself anew once when the server has become another build, and not again', async ({ browser }) => {
  const root = join(import.meta.dirname, '../..');
  const place = mkdtempSync(join(tmpdir(), 'hallclock-updated-'));
  for (const name of ['media', 'node_modules']) symlinkSync(join(root, name), join(place, name));
  for (const name of ['package.json', 'dist']) cpSync(join(root, name), join(place, name), { recursive: true });
  const hall = await studio([], undefined, place);
  await hall.start();
  const screen = await (await browser.newContext()).newPage();
  let loads = 0;
  screen.on('load', () => { loads += 1; });
  await screen.goto(`${hall.url}/screen`);
  await expect(screen.locator('.doors .title')).toBeVisible();
  const again = async (build: string) => {
    await hall.kill();
    writeFileSync(join(place, 'dist/build.json'), JSON.stringify({ build, at: 0 }));
    await hall.start();
    const eye = device(hall.url, 'desk');
    await eye.until((r) => r.about?.present.screens === 1, 'the screen');
    eye.close();
  };
  await again('another');
  await expect.poll(() => loads, PATIENT).toBe(2);
  await expect(screen.locator('.doors .title')).toBeVisible(PATIENT);
  await again('another');
  await expect(screen.locator('.code')).toHaveText(/^\d{3} ?\d{3}$/, PATIENT);
  expect(loads).toBe(2);
  await hall.close();
  rmSync(place, { recursive: true, force: true });
});
