/** Opens the page of movements as an instructor does who chooses, and fills in the form for one of the studio's own. */
import type { Page } from '@playwright/test';
import { webm } from '../server/small-files.ts';
import { codeOn } from './hands.ts';
import { shortPlan, studio } from './studio.ts';
import { expect, test } from './test.ts';

/** Which figures were drawn anew within a while, and which of the page can be seen. */
const drawnAnew = (page: Page) => page.evaluate(async () => {
  const drawn = new Set<Element>();
  const watch = new MutationObserver((all) => {
    for (const { target } of all) {
      const card = target instanceof Element ? target.closest('.card') : null;
      if (card) drawn.add(card);
    }
  });
  watch.observe(document.body, { subtree: true, attributes: true, attributeFilter: ['d'] });
  await new Promise((resolve) => { setTimeout(resolve, 3_000); });
  watch.disconnect();
  const seen = [...document.querySelectorAll('.card')].filter((card) => {
    const { top = 0, bottom = 0 } = card.querySelector('.stage')?.getBoundingClientRect() ?? {};
    return bottom > 0 && top < window.innerHeight;
  });
  return { drawn: drawn.size, seen: seen.length, unseen: [...drawn].filter((card) => !seen.includes(card)).length, all: document.querySelectorAll('.card').length };
});
const tooWide = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);

test('M34 figures move while they are in view, and for nobody who wants no motion', async ({ browser }) => {
  const hall = await studio([shortPlan]);
  await hall.start();
  for (const [width, height] of [[390, 844], [1280, 800]] as const) {
    for (const reducedMotion of ['no-preference', 'reduce'] as const) {
      const page = await (await browser.newContext({ viewport: { width, height }, reducedMotion })).newPage();
      await page.goto(`${hall.url}/movements`);
      await expect(page.locator('.card').first()).toBeVisible();
      expect(await tooWide(page)).toBe(0);
      const figures = await drawnAnew(page);
      expect(figures.all).toBeGreaterThanOrEqual(60);
      expect(figures.unseen).toBe(0);
      // A held pose that is the same all through its loop is drawn but does not change.
      if (reducedMotion === 'reduce') expect(figures.drawn).toBe(0);
      else expect(figures.drawn).toBeGreaterThanOrEqual(figures.seen / 2);
      await page.close();
    }
  }
  await hall.close();
});

test('M33 a movement is found, opened, and leads to its option', async ({ page }) => {
  const hall = await studio([shortPlan]);
  await hall.start();
  await page.goto(`${hall.url}/movements`);
  await page.getByLabel('Find by name').fill('reverse lunge');
  await expect(page.getByRole('status')).toHaveText(/^1 of \d+ movements$/);
  await page.locator('.card a').click();
  const opened = page.getByRole('dialog', { name: 'Reverse lunge' });
  for (const words of ['Set-up', 'Action', 'Cues', 'Look for', 'Option', 'Build', 'Options for needs', '2024 Compendium of Physical Activities']) await expect(opened).toContainText(words);
  await opened.locator('dt:text-is("Option") + dd a').click();
  await expect(page.getByRole('dialog', { name: 'Split squat' })).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await hall.close();
});

test('M31 R20 the form: refused while not paired, then kept with its clip, which moves', async ({ browser }) => {
  const hall = await studio([shortPlan]);
  await hall.start();
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const [screen, page] = [await context.newPage(), await context.newPage()];
  await screen.goto(`${hall.url}/screen`);
  const code = await codeOn(screen);
  await page.goto(`${hall.url}/movements/new`);
  expect(await tooWide(page)).toBe(0);
  const lines = { Name: 'Towel pull', 'Set-up': 'Stand on the towel.', Action: 'Pull it up.', Cues: 'Elbow back\nTall', 'Look for': 'Shrugging' };
  for (const [label, words] of Object.entries(lines)) await page.getByRole('textbox', { name: new RegExp(`^${label}`) }).first().fill(words);
  await page.locator('[name=option]').fill('Sit on a chair');
  await page.locator('[name=build]').fill('Slower');
  for (const [name, value] of Object.entries({ start: 'standing', end: 'standing', pattern: 'pull', impact: 'none', sides: 'together' })) await page.locator(`[name=${name}]`).selectOption(value);
  await page.locator('[name=intensity]').selectOption({ index: 1 });
  await page.locator('.tick', { hasText: 'Main' }).click();
  await page.locator('.tick', { hasText: 'Upper back' }).click();
  await page.locator('[type=file]').setInputFiles({ name: 'a picture.png', mimeType: 'image/png', buffer: webm });
  await page.getByRole('button', { name: 'Keep this movement' }).click();
  await expect(page.getByRole('alert')).toContainText('This browser may look, but not write.');
  await page.evaluate((digits) => fetch('/api/pair', { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ code: digits }) }), code);
  await page.getByRole('button', { name: 'Keep this movement' }).click();
  const clip = page.getByRole('dialog', { name: 'Towel pull' }).locator('video');
  await expect.poll(() => clip.evaluate((v: HTMLVideoElement) => [v.videoWidth, v.paused, v.muted, v.loop])).toEqual([16, false, true, true]);
  await hall.close();
});
