/** Owns the pictures of the README: a real class on the running server, seen by a screen, a phone and the desk. */
import { mkdirSync } from 'node:fs';
import { chromium } from '@playwright/test';
import { codeOn, open, press, settle, title } from '../browser/hands.ts';
import { studio } from '../browser/studio.ts';

const folder = new URL('../../media/pictures/', import.meta.url).pathname;
mkdirSync(folder, { recursive: true });
const hall = await studio([]);
await hall.start();
const browser = await chromium.launch({
  executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});
const { screen, phone } = await open(browser, hall);
await screen.setViewportSize({ width: 1280, height: 720 });
await phone.goto(`${hall.url}/phone?code=${await codeOn(screen)}`);
await press(phone, /^Forty twenty/);
await press(phone, 'Start');
await settle(phone);
await press(phone, 'More');
await phone.getByLabel('Head count').fill('14');
await press(phone, 'Close');
/** Says go where something waits, else moves on, until the lunge is there to be worked. */
for (let k = 0; k < 12 && (await title(screen).innerText()) !== 'Reverse lunge'; k += 1) {
  const go = phone.getByRole('button', { name: 'Go', exact: true });
  if (await go.isVisible()) await go.click();
  else await press(phone, 'Move on');
  await settle(phone);
}
await press(phone, 'Go');
await screen.locator('.class[data-phase="work"]').waitFor();
await screen.waitForTimeout(7_000);
await Promise.all([screen.screenshot({ path: `${folder}screen-work.png` }), phone.screenshot({ path: `${folder}phone-work.png` })]);
await press(phone, 'Pause');
await settle(phone);
await press(phone, 'Form');
await screen.waitForTimeout(4_000);
await press(phone, 'Carry on');
await screen.waitForTimeout(9_000);
await press(phone, 'Ten more');
await screen.waitForTimeout(15_000);
await press(phone, 'More');
await press(phone, 'End the class');
await press(phone, 'End the class');
await phone.getByText('Open the log').click();
await phone.setViewportSize({ width: 1000, height: 760 });
await phone.waitForTimeout(1_000);
await phone.screenshot({ path: `${folder}desk-class.png` });
await browser.close();
await hall.close();
