/**
 * Measures whether anything on the screen flashes: a whole short class on the real page, its
 * clock driven picture by picture, each picture's luminance in cells; the worst second by the
 * definition of WCAG 2.3.1 (tests/look/flashes.ts). To reach: 3 at most.
 */
import { chromium } from '@playwright/test';
import { shortPlan, studio } from '../browser/studio.ts';
import { type Frame, worstSecond } from '../look/flashes.ts';
import { table } from './table.ts';

/** Twice the fastest change that would count as four flashes, and half as much again. */
const EACH_MS = 80;
const CLASS_MS = 135_000;
const SIZE = { width: 320, height: 180 };
const [COLUMNS, ROWS] = [32, 18];
/**
 * A quarter of 10 degrees of what is seen is 19.6 square degrees. For the front row (65 inches
 * at 3 m: 26.9 by 15.4 degrees) that is a twentieth of the picture; farther away it is more.
 */
const FRONT_ROW_SHARE = 0.047;

export async function run(): Promise<void> {
  const hall = await studio([shortPlan]);
  await hall.start();
  // The runner names functions by a helper that pages do not have.
  const helper = 'globalThis.__name = (f) => f';
  const browser = await chromium.launch({
    executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  });
  const rows: (string | number)[][] = [['', 'pictures', 'seconds', 'flashes in the worst second, a twentieth of the picture', 'at', 'anywhere', 'at']];
  for (const theme of ['day', 'dim']) {
    const page = await browser.newPage({ viewport: SIZE });
    const reader = await browser.newPage();
    await page.addInitScript(helper);
    await reader.addInitScript(helper);
    await reader.goto('about:blank');
    await page.addInitScript(heldClock, Date.UTC(2026, 2, 12, 18));
    await page.goto(`${hall.url}/screen?rehearse=short&rate=1&theme=${theme}`);
    await page.locator('.class').waitFor();
    const taker = await page.context().newCDPSession(page);
    const frames: Frame[] = [];
    const phases = new Set<string>();
    for (let atMs = 0; atMs < CLASS_MS; atMs += EACH_MS) {
      await page.evaluate((ms) => (globalThis as unknown as Held).tick(ms), EACH_MS);
      const { data } = await taker.send('Page.captureScreenshot', { format: 'jpeg', quality: 90 });
      frames.push({ atMs, cells: await reader.evaluate(cellsOf, { data, columns: COLUMNS, rows: ROWS }) });
      if (atMs % 1_000 < EACH_MS) phases.add(await page.locator('.class').getAttribute('data-phase') ?? '');
      if (phases.has('over')) break;
    }
    const wide = worstSecond(frames, FRONT_ROW_SHARE);
    const anywhere = worstSecond(frames, 1 / (COLUMNS * ROWS));
    rows.push([`${theme}: ${[...phases].join(', ')}`, String(frames.length), ((frames.at(-1)?.atMs ?? 0) / 1_000).toFixed(0), String(wide.flashes), `${(wide.fromMs / 1_000).toFixed(1)} s`, String(anywhere.flashes), `${(anywhere.fromMs / 1_000).toFixed(1)} s`]);
    await page.close();
    await reader.close();
  }
  await browser.close();
  await hall.close();
  table('A whole short class, picture by picture. To reach: 3 flashes a second at most', rows);
}

interface Held {
  tick: (ms: number) => Promise<void>;
}

/** In the page: its clocks stand until they are moved on, and then it has drawn. */
function heldClock(wall: number): void {
  let at = 1_000;
  performance.now = () => at;
  Date.now = () => wall + at;
  (globalThis as unknown as Held).tick = (ms) => {
    at += ms;
    return new Promise((resolve) => { requestAnimationFrame(() => requestAnimationFrame(() => resolve())); });
  };
}

/** In the page: mean relative luminance of each cell of a picture. */
async function cellsOf({ data, columns, rows }: { data: string; columns: number; rows: number }): Promise<number[]> {
  const image = new Image();
  image.src = `data:image/jpeg;base64,${data}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = image.width;
  canvas.height = image.height;
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (!context) throw new Error('no canvas');
  context.drawImage(image, 0, 0);
  const { data: px } = context.getImageData(0, 0, image.width, image.height);
  const linear = Array.from({ length: 256 }, (_, v) => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4));
  const sums = new Array<number>(columns * rows).fill(0);
  for (let y = 0; y < image.height; y += 1) {
    for (let x = 0; x < image.width; x += 1) {
      const k = 4 * (y * image.width + x);
      const cell = Math.floor((y * rows) / image.height) * columns + Math.floor((x * columns) / image.width);
      sums[cell] = (sums[cell] ?? 0) + 0.2126 * (linear[px[k] ?? 0] ?? 0) + 0.7152 * (linear[px[k + 1] ?? 0] ?? 0) + 0.0722 * (linear[px[k + 2] ?? 0] ?? 0);
    }
  }
  return sums.map((s) => (s * columns * rows) / (image.width * image.height));
}
