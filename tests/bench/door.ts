/**
 * Owns the bench of the door check: how long its taps take on the built pages, in a real
 * browser. The page's part is measured, from the tap until what comes next can be pressed.
 * The person's part is counted by the keystroke-level model (Card, Moran and Newell 1980;
 * its times from memory): 1.35 s to think of a tap, 1.1 s to point, 0.2 s to press.
 */
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Locator } from '@playwright/test';
import { hallclock, joinAs } from './server.ts';
import { table } from './table.ts';

const THINK_S = 1.35;
const POINT_S = 1.1;
const PRESS_S = 0.2;
/** A signal is heard out before anybody says yes. */
const HEAR_S = 1.5;
const WAIT_MS = 60_000;

export async function run(): Promise<void> {
  const ours = await hallclock(['r0'], 0, mkdtempSync(join(tmpdir(), 'hallclock-bench-')));
  const browser = await chromium.launch({
    executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic', '--no-first-run'],
  });
  const page = async (width: number, height: number) => (await browser.newContext({ viewport: { width, height } })).newPage();
  const [screen, phone] = [await page(1280, 720), await page(390, 844)];
  for (const p of [screen, phone]) p.setDefaultTimeout(WAIT_MS);
  const { snapshot, socket } = await joinAs(ours.url, 'screen', 'r0');
  socket.disconnect();
  await screen.goto(`${ours.url}/screen`);
  await phone.goto(`${ours.url}/phone?code=${snapshot.pairing?.code}`);
  const button = (name: string | RegExp) => phone.getByRole('button', { name, exact: typeof name === 'string' });
  await button('Door check').waitFor();
  let [taps, pageMs, personS] = [0, 0, 0];
  const tap = async (what: Locator, then: Locator, extraS = 0) => {
    const from = performance.now();
    await what.click();
    await then.waitFor();
    pageMs += performance.now() - from;
    taps += 1;
    personS += THINK_S + POINT_S + PRESS_S + extraS;
  };
  const rows: (string | number)[][] = [['', 'taps', 'page s', 'person s', 'together s']];
  const told = (name: string) => {
    rows.push([name, String(taps), pageMs / 1_000, personS, pageMs / 1_000 + personS]);
    [taps, pageMs, personS] = [0, 0, 0];
  };

  await tap(button('Door check'), button('Yes'));
  await tap(button('Yes'), phone.locator('.pictures button').first());
  const shown = (await screen.locator('[data-door-picture]').getAttribute('data-door-picture')) ?? '';
  await tap(button(shown), button('Sound one signal'));
  await tap(button('Sound one signal'), button('Yes'), HEAR_S);
  await tap(button('Yes'), button('in 45 min'));
  await tap(button('in 45 min'), button('Next'));
  const heads = phone.getByLabel('How many are here?');
  await tap(button('Next'), heads);
  await tap(heads, heads);
  const from = performance.now();
  await heads.fill('12');
  await heads.press('Enter');
  pageMs += performance.now() - from;
  // Two digits and the key that keeps them.
  personS += 3 * PRESS_S + THINK_S;
  for (const [what, n] of [['New', 0], ['New', 1], ['Knee', 0], ['Pregnancy', 0]] as const) {
    await tap(button(`${what}: ${n}. One more.`), button(`${what}: ${n + 1}. One more.`));
  }
  await tap(button('Done'), button('Door check'));
  told('every step, 12 people, four things said');

  const onward = phone.locator('.foot .big');
  await tap(button('Door check'), onward);
  for (const next of ['Tap what the screen shows', 'Can the room be heard?', 'When must the floor be free?', 'How many are here?']) {
    await tap(onward, phone.getByText(next));
  }
  await tap(onward, button('Door check'));
  told('every step left out');

  await browser.close();
  await ours.close();
  table('The door check, from the tap that opens it to the one that closes it. To reach: a minute', rows);
}
