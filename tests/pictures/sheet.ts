/** Owns a sheet of many pictures on one, each with its name, to be looked at together. */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import type { Browser } from '@playwright/test';

const COLUMNS = 4;
const EACH_PX = 480;

export async function sheet(browser: Browser, files: readonly string[], path: string): Promise<void> {
  const page = await browser.newPage({ viewport: { width: COLUMNS * (EACH_PX + 8), height: 100 } });
  const cell = (file: string) => `<figure style="margin:0"><figcaption>${basename(file, '.png')}</figcaption>`
    + `<img width="${EACH_PX}" src="data:image/png;base64,${readFileSync(file).toString('base64')}"></figure>`;
  await page.setContent(`<body style="margin:4px;display:grid;gap:6px;grid-template-columns:repeat(${COLUMNS},${EACH_PX}px);font:12px sans-serif">${files.map(cell).join('')}</body>`);
  await page.evaluate(() => Promise.all([...document.images].map((image) => image.decode())));
  await page.screenshot({ path, fullPage: true });
  await page.close();
}
