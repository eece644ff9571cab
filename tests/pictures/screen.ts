/**
 * Owns pictures of every state of the screen, for a person to look at:
 *   npx tsx tests/pictures/screen.ts [state,state] [1920x1080,1280x720] [day,dim]
 * They are written to .cache/pictures/. Every text is measured on the way.
 */
import { mkdirSync } from 'node:fs';
import { chromium, type Page } from '@playwright/test';
import react from '@vitejs/plugin-react';
import { createServer } from 'vite';
import { stateNames } from './states.ts';

const [states = stateNames.join(','), sizes = '1920x1080', themes = 'day'] = process.argv.slice(2);
const folder = new URL('../../.cache/pictures/', import.meta.url).pathname;
mkdirSync(folder, { recursive: true });

const vite = await createServer({
  root: new URL('../..', import.meta.url).pathname, configFile: false, plugins: [react()], logLevel: 'error',
  cacheDir: new URL('../../.cache/vite-pictures', import.meta.url).pathname,
  server: { port: 0, host: '127.0.0.1', hmr: false, watch: null },
});
await vite.listen();
const base = vite.resolvedUrls?.local[0] ?? '';
const browser = await chromium.launch({
  executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic', '--no-first-run'],
});

/** Text that sticks out of the picture or of its own box, or that is too small for the back row. */
const faults = (page: Page) => page.evaluate(() => {
  const unit = Number.parseFloat(getComputedStyle(document.querySelector('.wall') as Element).getPropertyValue('--u'));
  const inClass = document.querySelector('.class') !== null;
  const found: string[] = [];
  for (const e of document.querySelectorAll<HTMLElement>('p, span')) {
    const words = e.textContent ?? '';
    if (!words.trim()) continue;
    const range = document.createRange();
    range.selectNodeContents(e);
    const em = Number.parseFloat(getComputedStyle(e).fontSize);
    for (const box of range.getClientRects()) {
      // Boxes of text are higher than its letters.
      const air = 0.14 * em;
      if (box.left < -1 || box.top < -air || box.right > innerWidth + 1 || box.bottom > innerHeight + air) found.push(`sticks out of the picture: ${words}`);
    }
    if (e.scrollWidth > e.clientWidth + 2 && getComputedStyle(e).display !== 'inline') found.push(`wider than its box: ${words}`);
    const size = em / unit;
    if (inClass && size < 7.15) found.push(`too small (${size.toFixed(1)} units): ${words}`);
  }
  return [...new Set(found)];
});

for (const size of sizes.split(',')) {
  const [width = 1920, height = 1080] = size.split('x').map(Number);
  for (const theme of themes.split(',')) {
    const page = await browser.newPage({ viewport: { width, height } });
    page.on('pageerror', (error) => process.stdout.write(`${error.stack}\n`));
    for (const state of states.split(',')) {
      await page.goto(`${base}tests/pictures/screen.html?state=${state}&theme=${theme}`);
      await page.waitForSelector('.wall p, .wall svg');
      await page.evaluate(() => document.fonts.ready);
      await page.waitForTimeout(state.includes('lost') ? 5_300 : 150);
      await page.screenshot({ path: `${folder}screen-${state}-${theme}-${size}.png` });
      for (const fault of await faults(page)) process.stdout.write(`${state} ${theme} ${size}: ${fault}\n`);
    }
    await page.close();
  }
}
await browser.close();
await vite.close();
