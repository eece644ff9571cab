/**
 * Owns pictures of every state of the screen, for a person to look at:
 *   npx tsx tests/pictures/screen.ts [state,state] [1920x1080,1280x720] [day,dim] [query]
 * They are written to .cache/pictures/, with sheets of all for each size and theme. A query,
 * such as inch=75&far=10000 or lang=ar, is added to each. What is cut or lies over something is named.
 */
import { mkdirSync } from 'node:fs';
import { measureAll } from '../look/measure.ts';
import { launch, serveScreenPage } from './served.ts';
import { sheets } from './sheet.ts';
import { stateNames } from './states.ts';

const [asked = '', sizes = '1920x1080', themes = 'day', query = ''] = process.argv.slice(2);
const states = asked === '' ? [...stateNames, 'doors&setup'] : asked.split(',');
const folder = new URL('../../.cache/pictures/', import.meta.url).pathname;
mkdirSync(folder, { recursive: true });
/** The screen says that it is alone only after some seconds. */
const ALONE_MS = 5_300;

const served = await serveScreenPage();
const browser = await launch();
const suffix = query === '' ? '' : `-${query.replace(/\W+/g, '-')}`;
for (const size of sizes.split(',')) {
  const [width = 1920, height = 1080] = size.split('x').map(Number);
  const page = await browser.newPage({ viewport: { width, height } });
  page.on('pageerror', (error) => process.stdout.write(`${error.stack}\n`));
  // The runner names functions by a helper that the page does not have.
  await page.addInitScript('globalThis.__name = (f) => f');
  await page.goto(`${served.url}?state=doors`);
  await page.waitForSelector('html[data-ready]', { state: 'attached', timeout: 60_000 });
  for (const theme of themes.split(',')) {
    const files: string[] = [];
    for (const state of states) {
      await page.evaluate((q) => globalThis.show(q), `?state=${state}&theme=${theme}&${query}`);
      const lang = new URLSearchParams(query).get('lang') ?? 'en';
      await page.locator(`.wall[lang="${lang}"]`).waitFor();
      if (state.includes('lost')) await page.waitForTimeout(ALONE_MS);
      const path = `${folder}screen-${state.replace(/\W+/g, '-')}-${theme}-${size}${suffix}.png`;
      await page.screenshot({ path });
      files.push(path);
      for (const fault of (await page.evaluate(measureAll)).faults) process.stdout.write(`${state} ${theme} ${size} ${query}: ${fault}\n`);
    }
    if (files.length > 1) await sheets(browser, files, `${folder}sheet-${theme}-${size}${suffix}`, height > width);
  }
  await page.close();
}
await browser.close();
await served.close();
