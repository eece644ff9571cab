/** Looks at the built screen in its other languages: what is said fits, and the body stays a mirror whichever way words run. */
import type { Page } from '@playwright/test';
import { measureAll } from '../look/measure.ts';
import { type Served, serveScreenPage } from '../pictures/served.ts';
import { expect, test } from './test.ts';

let served: Served;
test.beforeAll(async () => { served = await serveScreenPage(); });
test.afterAll(async () => { await served.close(); });

async function open(page: Page): Promise<void> {
  page.on('pageerror', (error) => { throw error; });
  await page.addInitScript('globalThis.__name = (f) => f');
  await page.goto(`${served.url}?state=doors`);
  await page.locator('html[data-ready]').waitFor({ state: 'attached', timeout: 60_000 });
}

/** Shows a state in a language, and waits for its words and its letters. */
async function show(page: Page, state: string, lang: string): Promise<void> {
  await page.evaluate((q) => globalThis.show(q), `?state=${state}&lang=${lang}`);
  await page.locator(`.wall[lang="${lang}"]`).waitFor({ timeout: 60_000 });
  await page.evaluate(async () => {
    await document.fonts.ready;
    await new Promise<void>((done) => { requestAnimationFrame(() => requestAnimationFrame(() => done())); });
  });
}

const middleOf = (page: Page, selector: string): Promise<number> =>
  page.locator(selector).first().evaluate((e) => {
    const box = e.getBoundingClientRect();
    return (box.left + box.right) / 2 / window.innerWidth;
  });

test('V435 in every language the participant\'s right is the right of the screen: clay, seconds and limb; only words and floor turn', async ({ page }) => {
  await page.setViewportSize({ width: 1_280, height: 720 });
  await open(page);
  const limbs = { en: ['right leg back', 'left leg back'], de: ['rechtes Bein zurück', 'linkes Bein zurück'], ar: ['الساق اليمنى إلى الخلف', 'الساق اليسرى إلى الخلف'] } as const;
  for (const [lang, [right, left]] of Object.entries(limbs)) {
    await show(page, 'right', lang);
    await expect(page.locator('.count .line')).toHaveText(right);
    expect(await middleOf(page, '.tide-clay[data-half="solid"]'), lang).toBeCloseTo(0.75, 2);
    expect(await middleOf(page, '.count .seconds'), lang).toBeGreaterThan(0.6);
    const title = await middleOf(page, '.head .title');
    const corner = await middleOf(page, '.head .corner');
    expect(title < corner, lang).toBe(lang !== 'ar');
    // The notch has walked less than half of the class, from where one begins to read.
    const notch = await middleOf(page, '.floor-notch');
    expect(lang === 'ar' ? 1 - notch : notch, lang).toBeLessThan(0.5);
    await show(page, 'left', lang);
    await expect(page.locator('.count .line')).toHaveText(left);
    expect(await middleOf(page, '.tide-clay[data-half="solid"]'), lang).toBeCloseTo(0.25, 2);
    expect(await middleOf(page, '.count .seconds'), lang).toBeLessThan(0.4);
    await expect(page.locator('.wall')).toHaveAttribute('dir', lang === 'ar' ? 'rtl' : 'ltr');
  }
});

/** Those with the most words, and with the longest; every state was looked at by hand. */
const wordy = ['doors', 'watch-sided', 'set-up', 'right', 'help'];
test('V436 in German and Arabic nothing is cut, off the screen or over anything, lying and upright', async ({ page }) => {
  await open(page);
  for (const { width, height } of [{ width: 1_280, height: 720 }, { width: 720, height: 1_280 }]) {
    await page.setViewportSize({ width, height });
    for (const lang of ['de', 'ar']) {
      for (const state of wordy) {
        await show(page, state, lang);
        expect.soft((await page.evaluate(measureAll)).faults, `${state} in ${lang}, ${width}x${height}`).toEqual([]);
      }
    }
  }
});
