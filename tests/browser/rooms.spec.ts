/** Drives two rooms at once: a phone that serves both, and who is told when one of them needs a hand. */
import type { Browser, Page } from '@playwright/test';
import { codeOn, press, title } from './hands.ts';
import { shortPlan, studio } from './studio.ts';
import { expect, test } from './test.ts';

declare global { interface Window { buzzed: (number | readonly number[])[]; arrivals: string[] } }

/** A page of its own that counts how it buzzes. Anything that it throws fails the test. */
async function pageOf(browser: Browser, url: string, width = 390): Promise<Page> {
  const page = await (await browser.newContext({ viewport: { width, height: 844 } })).newPage();
  page.on('pageerror', (error) => { throw error; });
  await page.addInitScript(() => {
    window.buzzed = [];
    navigator.vibrate = (pattern) => window.buzzed.push(pattern as number) > 0;
  });
  await page.goto(url);
  return page;
}
const roomOn = (phone: Page) => phone.locator('.room-name');
const buzzes = (page: Page) => page.evaluate(() => window.buzzed.length);

test('K312 K313 R105 a phone goes from room to room with one tap and acts on the room it names; the phones of the others and the desk are told who needs a hand, their screens are not', async ({ browser }) => {
  const hall = await studio([shortPlan], 'garden:Garden room,attic:Attic');
  await hall.start();
  const garden = await pageOf(browser, `${hall.url}/screen/garden`, 1280);
  const attic = await pageOf(browser, `${hall.url}/screen/attic`, 1280);
  const phone = await pageOf(browser, `${hall.url}/phone?code=${await codeOn(garden)}`);
  await expect(roomOn(phone)).toHaveText('Garden room');

  const other = await pageOf(browser, `${hall.url}/phone?code=${await codeOn(attic)}`);
  await expect(roomOn(other)).toHaveText('Attic');

  await test.step('the same phone is paired with the second room, and starts a class there', async () => {
    await press(phone, 'Pair with another screen');
    await phone.getByLabel('Code on the screen').fill(await codeOn(attic));
    await expect(roomOn(phone)).toHaveText('Attic');
    await press(phone, /^Short class/);
    await press(phone, 'Start');
    await expect(title(attic)).toHaveText('Welcome');
  });

  await test.step('one tap to the other room: its name first, with nothing to press for a second tap that was meant for the first', async () => {
    await press(phone, 'More');
    // It stands for a moment only: what the page was is noted as it changes.
    await phone.evaluate(() => {
      window.arrivals = [];
      new MutationObserver(() => {
        const page = document.querySelector('.arrived');
        if (page) window.arrivals.push(`${page.textContent}, ${page.querySelectorAll('button, a, input').length} to press`);
      }).observe(document, { childList: true, subtree: true });
    });
    await phone.locator('.room-to').click();
    await expect(roomOn(phone)).toHaveText('Garden room');
    await expect(phone.getByText('Which class?')).toBeVisible();
    expect([...new Set(await phone.evaluate(() => window.arrivals))]).toEqual(['Garden room, 0 to press']);
    await expect(title(attic)).toHaveText('Welcome');
    await expect(garden.locator('.doors')).toBeVisible();
  });

  const desk = await pageOf(browser, `${hall.url}/desk/plans`, 1280);
  await test.step('stop in the room that is open now stops that one only; untouched it calls', async () => {
    await expect(other.getByRole('button', { name: 'Go', exact: true })).toBeVisible();
    const before = await buzzes(other);
    await press(phone, 'Stop');
    await expect(garden.locator('.stop .title')).toHaveText('Please make room');
    await expect(title(attic)).toHaveText('Welcome');
    for (const page of [other, desk]) {
      await expect(page.getByText('Garden room needs a hand')).toBeVisible();
      await expect.poll(() => buzzes(page)).toBe((page === other ? before : 0) + 1);
    }
    await expect(attic.locator('body')).not.toContainText('Garden');
    await press(other, 'Seen');
    await expect(other.getByText('needs a hand')).toHaveCount(0);
    // The one who is asked for goes on with a class, if they want.
    await press(other, 'Go');
    await expect(title(attic)).toHaveText('Squat');
  });

  await test.step('everyone out is another word, and once it is over nobody is told any more', async () => {
    await press(phone, 'Everyone out');
    await expect(desk.getByText('Everyone out of Garden room')).toBeVisible();
    await garden.locator('body').press('b');
    await expect(desk.getByText('Everyone out of Garden room')).toHaveCount(0);
  });
  await hall.close();
});
