/** Owns the bench from a tap on the phone to the changed frame on the screen, in two real browser pages, beside a bare relay. */
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Page } from '@playwright/test';
import { hallclock, joinAs, pause, relay } from './server.ts';
import { median, percentile, table } from './table.ts';

const ROUNDS = 5;
const TAPS = 12;
/** Longer than this is no delay any more but a fault. */
const MOST_MS = 5_000;
/** The big control takes no second tap before this. */
const APART_MS = 850;

/** One long stretch of work, to be paused and carried on. */
const plan = {
  format: 1, id: 'bench', name: 'Bench',
  sections: [
    { id: 'welcome', kind: 'welcome', talk: 30 },
    { id: 'main', kind: 'main', rounds: 1, work: 1_800, rest: 20, show: 'none', items: [{ movement: 'squat' }] },
  ],
};

/** Milliseconds from the press on one page to the frame after the change on the other; both read the machine's clock. */
async function taps(phone: Page, screen: Page, button: string, watched: string): Promise<number[]> {
  const out: number[] = [];
  for (let n = 0; n < TAPS; n += 1) {
    const changed = screen.evaluate(([selector, mostMs]) => new Promise<number>((resolve, reject) => {
      const seen = () => document.querySelector(selector)?.textContent;
      const base = seen();
      const look = new MutationObserver(() => {
        if (seen() === base) return;
        look.disconnect();
        requestAnimationFrame(() => resolve(performance.timeOrigin + performance.now()));
      });
      look.observe(document.body, { subtree: true, childList: true, characterData: true });
      setTimeout(() => reject(new Error(`nothing changed; the screen shows "${base}"`)), mostMs);
    }), [watched, MOST_MS] as const);
    const pressed = phone.evaluate((selector) => {
      const at = performance.timeOrigin + performance.now();
      document.querySelector<HTMLButtonElement>(selector)?.click();
      return at;
    }, button);
    const [then, from] = await Promise.all([changed, pressed]);
    out.push(then - from);
    await pause(APART_MS);
  }
  return out;
}

export async function run(): Promise<void> {
  const data = mkdtempSync(join(tmpdir(), 'hallclock-bench-'));
  mkdirSync(join(data, 'plans'));
  writeFileSync(join(data, 'plans', 'bench.json'), JSON.stringify(plan));
  const [ours, bare] = [await hallclock(['r0'], 0, data), await relay(false)];
  const executablePath = process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium';
  const args = ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic', '--no-first-run'];
  const browser = await chromium.launch({ executablePath, args });
  const wall = { viewport: { width: 1920, height: 1080 } };
  const hand = { viewport: { width: 390, height: 844 } };
  const page = async (size: typeof wall) => (await browser.newContext(size)).newPage();
  const [screen, phone, there, here] = [await page(wall), await page(hand), await page(wall), await page(hand)];
  for (const p of [screen, phone, there, here]) {
    p.setDefaultTimeout(MOST_MS * 4);
    // The program that reads TypeScript names functions through this, which a page does not have.
    await p.addInitScript('globalThis.__name = (f) => f');
  }
  const { snapshot, socket } = await joinAs(ours.url, 'screen', 'r0');
  socket.disconnect();
  await screen.goto(`${ours.url}/screen`);
  await phone.goto(`${ours.url}/phone?code=${snapshot.pairing?.code}`);
  await phone.getByRole('button', { name: /^Bench/ }).click();
  await phone.getByRole('button', { name: 'Start' }).click();
  await phone.locator('.big[data-does=go]').waitFor();
  await pause(APART_MS);
  await phone.locator('.big').click();
  await screen.locator('.class[data-phase=work]').waitFor();
  await Promise.all([there.goto(bare.url), here.goto(bare.url)]);
  await pause(1_000);
  const took: [number[], number[]] = [[], []];
  const ratios: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const a = await taps(here, there, 'button', 'p');
    const b = await taps(phone, screen, '.big', '.class .title');
    took[0].push(...a);
    took[1].push(...b);
    ratios.push(median(b) / median(a));
  }
  await browser.close();
  await Promise.all([ours.close(), bare.close()]);
  table(`Tap to changed frame, ms; ${ROUNDS} interleaved rounds of ${TAPS}; a headless browser without a GPU`, [
    ['', 'median', 'p95'],
    ['a bare relay and a bare page', median(took[0]), percentile(took[0], 0.95)],
    ['phone to screen', median(took[1]), percentile(took[1], 0.95)],
    ['ratio of medians, median and worst of the rounds', median(ratios), Math.max(...ratios)],
  ]);
}
