/** Drives a rehearsal in a real browser, and the times of shows from one class to the next. */
import type { PlanInput } from '../../shared/plan/plan.ts';
import { insideCookie } from '../inside.ts';
import { codeOn, open, press, settle, title } from './hands.ts';
import { studio } from './studio.ts';
import { expect, test } from './test.ts';

const pictures = new URL('../../.cache/pictures/live/', import.meta.url).pathname;
const shown: PlanInput = {
  format: 1, id: 'shown', name: 'Shown class', sections: [
    { id: 'welcome', kind: 'welcome', talk: 20 },
    { id: 'main', kind: 'main', show: 'each', showEstimate: 12, work: 20, rest: 10, items: [{ movement: 'squat' }, { movement: 'reverse-lunge' }] },
    { id: 'clear-up', kind: 'clear-up', talk: 10 },
  ],
};

test('V471 between two changes of what is said a frame moves the tide, the floor and the body, and adds or takes away nothing', async ({ browser }) => {
  const hall = await studio([{ format: 1, id: 'one', name: 'One move', sections: [{ id: 'main', kind: 'main', show: 'none', work: 120, rest: 0, items: [{ movement: 'squat' }] }] }]);
  await hall.start();
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  const page = await context.newPage();
  page.on('pageerror', (error) => { throw error; });
  await page.goto(`${hall.url}/screen?rehearse=one&rate=1`);
  await expect(page.locator('.class')).toHaveAttribute('data-phase', 'work');
  await page.evaluate(`
    globalThis.written = new Set(); globalThis.moves = 0;
    new MutationObserver((records) => { for (const r of records) {
      const part = r.target.parentElement && r.target.closest('.tide, .floor, .body');
      if (!part) continue;
      if (r.attributeName === 'd') globalThis.moves += 1;
      globalThis.written.add(part.classList[0] + ': ' + (r.attributeName || r.type));
    } }).observe(document.querySelector('.class'), { subtree: true, childList: true, attributes: true });
  `);
  await expect.poll(() => page.evaluate<number>('globalThis.moves')).toBeGreaterThan(300);
  // A limb that comes before another is painted in its place.
  const painted = ['fill', 'paint-order', 'stroke', 'stroke-linejoin', 'stroke-width'].map((name) => `body: ${name}`);
  expect((await page.evaluate<string[]>('[...globalThis.written]')).filter((w) => !painted.includes(w)).sort()).toEqual(['body: d', 'floor: style', 'tide: style']);
  await Promise.all([context.close(), hall.close()]);
});

test('F22 a plan is rehearsed on the screen: faster, slower, stopped, to its end, and nothing is logged', async ({ browser }) => {
  const hall = await studio([shown]);
  await hall.start();
  const context = await browser.newContext({ viewport: { width: 1920, height: 1080 } });
  const page = await context.newPage();
  page.on('pageerror', (error) => { throw error; });
  const asked = new Set<string>();
  page.on('request', (r) => { asked.add(`${r.method()} ${new URL(r.url()).pathname}`); });
  page.on('websocket', (w) => { asked.add(`WS ${w.url()}`); });
  await page.goto(`${hall.url}/screen?rehearse=shown&rate=2`);
  const line = page.locator('.rehearsal p');
  await expect(line).toHaveText('Rehearsal, twice as fast');
  await expect(title(page)).toHaveText('Welcome');
  await page.waitForTimeout(800);
  await page.keyboard.press('Enter');
  await expect(page.locator('.class .corner')).toHaveText('Watch first');
  await page.keyboard.press('+');
  await expect(line).toHaveText('Rehearsal, three times as fast');
  await page.screenshot({ path: `${pictures}rehearsal-watch.png` });
  // Go is said by itself after the show.
  await expect(page.locator('.class')).toHaveAttribute('data-phase', 'work');
  await page.keyboard.press('-');
  await page.screenshot({ path: `${pictures}rehearsal-work.png` });
  await page.waitForTimeout(800);
  await page.keyboard.press('Space');
  await expect(title(page)).toHaveText('Paused');
  await page.waitForTimeout(800);
  await page.keyboard.press('Space');
  for (let k = 0; k < 6; k += 1) await page.keyboard.press('+');
  await expect(line).toHaveText('Rehearsal, twenty times as fast');
  await expect(title(page)).toHaveText('Well done', { timeout: 20_000 });
  await page.getByRole('button', { name: 'Begin again' }).click();
  await expect(title(page)).toHaveText('Welcome');
  expect([...asked].filter((a) => !a.startsWith('GET'))).toEqual([]);
  expect([...asked].filter((a) => a.includes('/api/')).sort()).toEqual(['GET /api/movements', 'GET /api/plans/shown']);
  const { classes } = (await (await fetch(`${hall.url}/api/classes`, { headers: { cookie: insideCookie } })).json()) as { classes: unknown[] };
  expect(classes).toEqual([]);
  await page.goto(`${hall.url}/screen?rehearse=nothing`);
  await expect(page.getByText('The studio has no such plan.')).toBeVisible();
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(`${hall.url}/screen?rehearse=shown&rate=20`);
  await expect(page.locator('.class')).toHaveAttribute('data-phase', 'work');
  await page.screenshot({ path: `${pictures}rehearsal-phone.png` });
  await context.close();
  await hall.close();
});

test('F22 a rehearsal sounds as fast as it runs', async ({ browser }) => {
  const hall = await studio([shown]);
  await hall.start();
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  const page = await context.newPage();
  // Writes down when each sound begins on the audio clock.
  await page.addInitScript(() => {
    const begun: number[] = [];
    Object.assign(window, { begun });
    const { start } = AudioBufferSourceNode.prototype;
    AudioBufferSourceNode.prototype.start = function begin(when = 0, ...rest) {
      if (this.buffer && this.buffer.duration > 1) begun.push(when);
      start.call(this, when, ...rest);
    };
  });
  await page.goto(`${hall.url}/screen?rehearse=shown&rate=2`);
  await expect(title(page)).toHaveText('Welcome');
  await page.locator('.class').click();
  await page.waitForTimeout(800);
  await page.keyboard.press('Enter');
  await expect(page.locator('.class')).toHaveAttribute('data-phase', 'work', { timeout: 20_000 });
  const begun = await page.evaluate(() => [...new Set((window as unknown as { begun: number[] }).begun)].sort((a, b) => a - b));
  // A sound that was planned anew, because the audio clock was read better, is one sound: starts within a tenth of a second.
  const sounds = begun.filter((t, k) => k === 0 || t - (begun[k - 1] ?? 0) > 0.1);
  const gaps = sounds.slice(1).map((t, k) => t - (sounds[k] ?? 0));
  // Three, two, one, go: a second apart in the class, half of one in the room.
  expect(gaps.filter((g) => Math.abs(g - 0.5) < 0.06).length, JSON.stringify(gaps)).toBeGreaterThanOrEqual(2);
  await context.close();
  await hall.close();
});

test('F23 who teaches is said once; the next plan page says what a show usually takes, and whose', async ({ browser }) => {
  const hall = await studio([shown]);
  await hall.start();
  const { screen, phone } = await open(browser, hall);
  await phone.goto(`${hall.url}/phone?code=${await codeOn(screen)}`);
  await press(phone, /^Shown class/);
  await phone.getByLabel('Who teaches?').fill('Ada');
  await press(phone, 'Start');
  await expect(title(screen)).toHaveText('Welcome');
  await settle(phone);
  await press(phone, 'Go');
  await expect(screen.locator('.class .corner')).toHaveText('Watch first');
  await phone.waitForTimeout(3_000);
  await press(phone, 'Go');
  await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work');
  await press(phone, 'More');
  await press(phone, 'Change the class');
  await press(phone, /Water/);
  await expect(screen.locator('.under')).toContainText('Water');
  await screen.screenshot({ path: `${pictures}water-next.png` });
  await press(phone, 'More');
  await press(phone, 'End the class');
  await press(phone, 'End the class');
  await expect(title(screen)).toHaveText('Well done');
  await phone.getByText('Open the log').click();
  await expect(phone.getByText(/Put in a water break after Squat/)).toBeVisible();
  await expect(phone.getByText(/taught by Ada/)).toBeVisible();
  await phone.screenshot({ path: `${pictures}log-changes-phone.png`, fullPage: true });

  await phone.goto(`${hall.url}/phone`);
  await press(phone, 'Another class');
  await press(phone, /^Shown class/);
  await expect(phone.getByLabel('Who teaches?')).toHaveValue('Ada');
  const usually = phone.locator('.shows li');
  await expect(usually).toHaveText(/^Squat, planned 12 s, usually (9|10) s$/);
  await phone.screenshot({ path: `${pictures}plan-shows-phone.png`, fullPage: true });
  await phone.getByLabel('Who teaches?').fill('Bo');
  await phone.getByLabel('Who teaches?').press('Enter');
  await expect(usually).toHaveText(/usually (9|10) s \(everybody\)$/);
  await expect(phone.getByRole('link', { name: 'Rehearse' })).toHaveAttribute('href', '/screen?rehearse=shown&rate=10');
  await phone.setViewportSize({ width: 1280, height: 800 });
  await phone.goto(`${hall.url}/desk`);
  await expect(phone.getByRole('link', { name: 'Rehearse' }).first()).toBeVisible();
  await phone.screenshot({ path: `${pictures}desk-rehearse.png`, fullPage: true });
  await hall.close();
});
