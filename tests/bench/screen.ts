/**
 * Owns the bench of the screen on slow hardware: Chromium with its processor slowed six times through its own
 * protocol. Cold load, script and layout a frame, long tasks in a class, memory over a day at 60 times the speed.
 */
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, type CDPSession, chromium, type Page } from '@playwright/test';
import { controls } from '../../shared/view/controls.ts';
import { device, live, pair, sessionOf } from '../server/serve.ts';
import { hallclock, pause } from './server.ts';
import { median, percentile, table } from './table.ts';

const SLOWED = 6;
const LOADS = 5;
const FRAMES_MS = 8_000;
/** Rehearsals run 20 times as fast at most (rule F22); the page's clock runs three times as fast on top. */
const RATE = 20;
const CLOCK = 3;
const quick = process.argv.includes('--quick');
/** An eight-hour day, or an hour and a half of it with --quick. */
const DAY_MS = (quick ? 1.5 : 8) * 3_600_000 / (RATE * CLOCK);
const SAMPLES = quick ? 9 : 24;

const plan = {
  format: 1, id: 'bench', name: 'Bench',
  sections: [
    { id: 'welcome', kind: 'welcome', talk: 10 },
    { id: 'main', kind: 'main', rounds: 2, work: 14, rest: 8, show: 'none', items: [{ movement: 'squat' }, { movement: 'reverse-lunge' }, { movement: 'glute-bridge' }] },
  ],
};

async function slowed(browser: Browser, before = ''): Promise<{ page: Page; cdp: CDPSession }> {
  const page = await (await browser.newContext({ viewport: { width: 1920, height: 1080 }, bypassCSP: true })).newPage();
  page.setDefaultTimeout(120_000);
  await page.addInitScript(`globalThis.__name = (f) => f; ${before}`);
  const cdp = await page.context().newCDPSession(page);
  await cdp.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });
  return { page, cdp };
}

/** Notes the first frame in which the doors or a class stand there, and every task that is too long. */
const WATCH = `
  globalThis.readyAt = null; globalThis.long = [];
  new PerformanceObserver((list) => { for (const e of list.getEntries()) globalThis.long.push([e.startTime, e.duration]); }).observe({ type: 'longtask', buffered: true });
  const look = () => {
    if (document.querySelector('.doors .title, .class .title')) requestAnimationFrame(() => { globalThis.readyAt = performance.now(); });
    else requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
`;

async function loads(browser: Browser, url: string) {
  const ms: number[] = [];
  let bytes = 0;
  for (let n = 0; n < LOADS; n += 1) {
    const { page } = await slowed(browser, WATCH);
    await page.goto(`${url}/screen`);
    await page.waitForFunction('globalThis.readyAt !== null');
    ms.push(await page.evaluate('globalThis.readyAt'));
    bytes = await page.evaluate("performance.getEntriesByType('resource').filter((e) => e.name.endsWith('.js') && e.responseEnd < globalThis.readyAt).reduce((s, e) => s + e.encodedBodySize, 0)");
    await page.context().close();
  }
  return { ms, bytes };
}

interface TraceEvent { readonly name: string; readonly ph: string; readonly ts: number; readonly dur?: number; readonly pid: number; readonly tid: number }
const WORK = new Set(['FunctionCall', 'EvaluateScript', 'RunMicrotasks', 'FireAnimationFrame', 'TimerFire', 'EventDispatch', 'V8.GCScavenger', 'MinorGC', 'MajorGC', 'UpdateLayoutTree', 'Layout', 'PrePaint', 'HitTest']);

/** Milliseconds of script, style and layout from each frame to the next, nothing counted twice. */
async function frames(browser: Browser, page: Page): Promise<number[]> {
  await browser.startTracing(page, { categories: ['devtools.timeline', 'disabled-by-default-devtools.timeline', 'toplevel'] });
  await pause(FRAMES_MS);
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as { traceEvents: TraceEvent[] };
  const starts = traceEvents.filter((e) => e.name === 'FireAnimationFrame');
  const main = starts[0];
  if (!main) throw new Error('no frames were drawn');
  const on = (e: TraceEvent) => e.pid === main.pid && e.tid === main.tid;
  const edges = starts.filter(on).map((e) => e.ts).sort((a, b) => a - b);
  const work = traceEvents.filter((e) => on(e) && e.ph === 'X' && WORK.has(e.name)).sort((a, b) => a.ts - b.ts);
  const out: number[] = edges.slice(1).map(() => 0);
  let until = 0;
  let k = 0;
  for (const { ts, dur = 0 } of work) {
    const from = Math.max(ts, until);
    until = Math.max(until, ts + dur);
    while (k + 1 < edges.length && (edges[k + 1] ?? 0) <= from) k += 1;
    if (k < out.length && from >= (edges[0] ?? 0)) out[k] = (out[k] ?? 0) + Math.max(0, ts + dur - from) / 1_000;
  }
  return out;
}

/** The slope of a straight line through the points, and its standard error. */
function slope(points: readonly (readonly [x: number, y: number])[]): { perX: number; error: number } {
  const n = points.length;
  const mean = (of: readonly number[]) => of.reduce((a, b) => a + b, 0) / n;
  const [mx, my] = [mean(points.map(([x]) => x)), mean(points.map(([, y]) => y))];
  const xx = points.reduce((s, [x]) => s + (x - mx) ** 2, 0);
  const perX = points.reduce((s, [x, y]) => s + (x - mx) * (y - my), 0) / xx;
  const left = points.reduce((s, [x, y]) => s + (y - my - perX * (x - mx)) ** 2, 0);
  return { perX, error: Math.sqrt(left / (n - 2) / xx) };
}

async function day(browser: Browser, url: string): Promise<[number, number][]> {
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 720 }, bypassCSP: true })).newPage();
  await page.addInitScript(`globalThis.__name = (f) => f; const now = performance.now.bind(performance); performance.now = () => now() * ${CLOCK};`);
  await page.goto(`${url}/screen?rehearse=forty-twenty&rate=${RATE}`);
  await page.waitForFunction("document.querySelector('.class .title')");
  const cdp = await page.context().newCDPSession(page);
  const points: [number, number][] = [];
  const from = performance.now();
  while (performance.now() - from < DAY_MS) {
    for (const end = performance.now() + DAY_MS / SAMPLES; performance.now() < end;) {
      await pause(500);
      // A class that is over begins again, in the same page.
      await page.evaluate("document.querySelector('.class')?.dataset.phase === 'over' && [...document.querySelectorAll('.rehearsal button')].pop()?.click()");
    }
    await cdp.send('HeapProfiler.collectGarbage');
    const { usedSize } = await cdp.send('Runtime.getHeapUsage');
    points.push([(performance.now() - from) * RATE * CLOCK / 3_600_000, usedSize / 1_000]);
  }
  await page.context().close();
  return points;
}

export async function run(): Promise<void> {
  const data = mkdtempSync(join(tmpdir(), 'hallclock-bench-'));
  mkdirSync(join(data, 'plans'));
  writeFileSync(join(data, 'plans', 'bench.json'), JSON.stringify(plan));
  const server = await hallclock(['r0'], 0, data);
  const browser = await chromium.launch({ executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--no-first-run'] });
  const load = await loads(browser, server.url);

  const { page } = await slowed(browser, WATCH);
  await page.goto(`${server.url}/screen`);
  await page.waitForFunction('globalThis.readyAt !== null');
  const screen = device(server.url, 'screen', undefined, 'r0');
  const phone = device(server.url, 'phone', await pair(server.url, screen), 'r0');
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'bench', freeAt: null });
  await page.waitForFunction("document.querySelector('.class .title')");
  await pause(2_000);
  const settledAt = await page.evaluate<number>('performance.now()');
  const go = controls(sessionOf(phone), phone.room().now() as never).big;
  if (go) await phone.room().send(go);
  await page.waitForFunction("document.querySelector('.class')?.dataset.phase === 'work'");
  const each = await frames(browser, page);
  const tracedUntil = await page.evaluate<number>('performance.now()');
  await page.waitForFunction("document.querySelector('.class')?.dataset.phase === 'over'", undefined, { timeout: 600_000 });
  const long = (await page.evaluate<[number, number][]>('globalThis.long')).filter(([at]) => at > settledAt && (at < tracedUntil - FRAMES_MS - 500 || at > tracedUntil)).map(([, ms]) => ms);
  phone.close();
  screen.close();
  await page.context().close();

  const heap = await day(browser, server.url);
  const line = slope(heap.slice(Math.floor(heap.length / 6)));
  await browser.close();
  await server.close();
  table(`The screen, processor slowed ${SLOWED} times, 1920x1080 drawn without a graphics processor`, [
    ['', 'median', 'p95', 'to reach'],
    [`cold load until it shows, ms, ${LOADS} times`, median(load.ms), percentile(load.ms, 0.95), 2_500],
    ['script until then, compressed, kB', load.bytes / 1_000, load.bytes / 1_000, 150],
    [`script and layout a frame in work, ms, ${each.length} frames`, median(each), percentile(each, 0.95), 6],
    ['tasks over 50 ms in a class, how many and the longest, ms', long.length, Math.max(0, ...long), 0],
  ]);
  table(`Memory over ${(DAY_MS * RATE * CLOCK / 3_600_000).toFixed(1)} h of classes at ${RATE * CLOCK} times the speed, kB after collecting, the first sixth left out`, [
    ['first', 'last', 'slope an hour of class', 'standard error'],
    [String(Math.round(heap[0]?.[1] ?? 0)), heap.at(-1)?.[1] ?? 0, line.perX, line.error],
  ]);
}
