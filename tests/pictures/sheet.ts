/** Owns sheets of many pictures, each with its name, to be looked at together: a dozen on each, so that they are not too small to judge. */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import type { Browser } from '@playwright/test';

const ACROSS_PX = 1_960;
const GAP_PX = 8;

/** Pictures of the height of a phone stand eight in a row, two rows; of a screen three, four rows. */
export async function sheets(browser: Browser, files: readonly string[], path: string, upright: boolean): Promise<void> {
  const [columns, each] = upright ? [8, 16] : [3, 12];
  const width = Math.floor(ACROSS_PX / columns) - GAP_PX;
  const page = await browser.newPage({ viewport: { width: ACROSS_PX, height: 100 } });
  for (let from = 0; from < files.length; from += each) {
    const cell = (file: string) => `<figure style="margin:0"><figcaption>${basename(file, '.png')}</figcaption>`
      + `<img width="${width}" src="data:image/png;base64,${readFileSync(file).toString('base64')}"></figure>`;
    await page.setContent(`<body style="margin:4px;display:grid;gap:${GAP_PX}px;grid-template-columns:repeat(${columns},${width}px);font:12px sans-serif">${files.slice(from, from + each).map(cell).join('')}</body>`);
    await page.evaluate(() => Promise.all([...document.images].map((image) => image.decode())));
    await page.screenshot({ path: `${path}-${from / each + 1}.png`, fullPage: true });
  }
  await page.close();
}
