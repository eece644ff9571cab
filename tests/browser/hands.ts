/** Owns a screen and a phone in one class: what each shows, and that they show the same second. */
import { type Browser, expect, type Page } from '@playwright/test';
import type { Studio } from './studio.ts';

export interface Class {
  readonly screen: Page;
  readonly phone: Page;
}

/** A screen at 1920x1080 and a phone at 390x844, not yet paired. Anything that a page throws fails the test. */
export async function open(browser: Browser, studio: Studio): Promise<Class> {
  const wall = await browser.newContext({ viewport: { width: 1920, height: 1080 } });
  const hand = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const [screen, phone] = [await wall.newPage(), await hand.newPage()];
  for (const page of [screen, phone]) page.on('pageerror', (error) => { throw error; });
  await screen.goto(`${studio.url}/screen`);
  return { screen, phone };
}

/** The code that the screen shows, six digits. */
export async function codeOn(screen: Page): Promise<string> {
  const code = screen.locator('.code');
  await expect(code).toHaveText(/^\d{3} ?\d{3}$/);
  return (await code.innerText()).replace(/\D/g, '');
}

export const press = (phone: Page, name: string | RegExp) => phone.getByRole('button', { name, exact: typeof name === 'string' }).click();
export const title = (screen: Page) => screen.locator('.class .title');
export const line = (screen: Page) => screen.locator('.class .line');

/** Past the dead time that every change of meaning has on the big control. */
export const settle = (phone: Page) => phone.waitForTimeout(800);

const secondsOf = async (page: Page, selector: string): Promise<string> => (await page.locator(selector).first().textContent({ timeout: 1_000 }).catch(() => '')) ?? '';

/** Reads both several times; at an edge one look may fall on either side, so each pair gets three looks. */
export async function sameSecond({ screen, phone }: Class, looks = 6): Promise<void> {
  for (let k = 0; k < looks; k += 1) {
    let pair: [string, string] = ['', ''];
    for (let tries = 0; tries < 3; tries += 1) {
      pair = await Promise.all([secondsOf(screen, '.class .seconds'), secondsOf(phone, '.count .digits')]);
      if (pair[0] !== '' && pair[0] === pair[1]) break;
      await screen.waitForTimeout(60);
    }
    expect(pair[0]).not.toBe('');
    expect(pair[1], 'phone and screen show the same second').toBe(pair[0]);
    await screen.waitForTimeout(270);
  }
}
