/**
 * Owns the bench of the screen on slow hardware: Chromium with its processor slowed six times through its own
 * protocol. Cold load, script and layout a frame, long tasks in a class, memory over a day at 60 times the speed.
 * `--beside=FOLDER` measures another built checkout by turns with this one; `--no-day` leaves the memory out.
 */
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { type Browser, type CDPSession, chromium, type Page } from '@playwright/test';
import { controls } from '../../shared/view/controls.ts';
import { view } from '../../shared/view/view.ts';
import { device, live, pair, sessionOf } from '../server/serve.ts';
import { traced, type Worked } from './frames.ts';
import { hallclock, pause } from './server.ts';
import { median, percentile, table } from './table.ts';

const SLOWED = 6;
const LOADS = 5;
const LONG_MS = 50;
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
    { id: 'warm', kind: 'warm-up', rounds: 1, work: 12, rest: 8, show: 'each', items: [{ movement: 'arm-circles' }] },
    { id: 'main', kind: 'main', rounds: 1, work: 14, rest: 8, show: 'none', items: [{ movement: 'squat' }, { movement: 'reverse-lunge' }, { movement: 'glute-bridge' }] },
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

/** Notes the first frame in which the doors or a class stand there. */
const WATCH = `
  globalThis.readyAt = null;
  const look = () => {
    if (document.querySelector('.doors .title, .class .title')) requestAnimationFrame(() => { globalThis.readyAt = performance.now(); });
    else requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
`;

async function load(browser: Browser, url: string): Promise<{ ms: number; bytes: number }> {
  const { page } = await slowed(browser, WATCH);
  await page.goto(`${url}/screen/r0`);
  await page.waitForFunction('globalThis.readyAt !== null');
  const ms = await page.evaluate<number>('globalThis.readyAt');
  // What the page itself names; codes and sound are asked for by it, and may come before the first frame all the same.
  const bytes = await page.evaluate<number>("fetch(location.href).then((a) => a.text()).then((html) => performance.getEntriesByType('resource').filter((e) => e.name.endsWith('.js') && html.includes(new URL(e.name).pathname)).reduce((s, e) => s + e.encodedBodySize, 0))");
  await page.context().close();
  return { ms, bytes };
}

/** Says in the trace what the class does, as it changes. */
const MARKS = `
  let said = '';
  const say = () => {
    const phase = document.querySelector('.class')?.dataset.phase ?? 'no class';
    if (phase !== said) performance.mark('is ' + (said = phase));
  };
  new MutationObserver(say).observe(document, { subtree: true, childList: true, attributeFilter: ['data-phase'] });
  say();
`;

/** A whole class on the slowed screen, led by a phone: nothing is asked of the page meanwhile. */
async function aClass(browser: Browser, url: string, room: string): Promise<Worked> {
  const { page } = await slowed(browser, WATCH);
  await page.goto(`${url}/screen/${room}`);
  await page.waitForFunction('globalThis.readyAt !== null');
  const screen = device(url, 'screen', undefined, room);
  const phone = device(url, 'phone', await pair(url, screen), room);
  await phone.until(live, 'the phone');
  await pause(2_000);
  const worked = await traced(browser, page, async () => {
    // What the beginning of the trace costs by itself is over before the class begins.
    await pause(1_000);
    await page.evaluate(MARKS);
    await phone.room().send({ type: 'start', plan: 'bench', freeAt: null });
    await pause(4_000);
    for (let over = false; !over; await pause(500)) {
      const now = phone.room().now();
      if (now === null) continue;
      const v = view(sessionOf(phone), now);
      over = v.phase === 'over';
      const { big } = controls(sessionOf(phone), now);
      if (v.waits && big) await phone.room().send(big);
    }
    await pause(1_000);
  });
  phone.close();
  screen.close();
  await page.context().close();
  return worked;
}

/** What the measuring costs by itself: a page that asks for every frame and moves one box. */
async function empty(browser: Browser): Promise<number[]> {
  const { page } = await slowed(browser);
  await page.setContent(`<div id="box" style="position:absolute;width:9px;height:9px;will-change:transform"></div><script>
    let n = 0;
    requestAnimationFrame(function next() { requestAnimationFrame(next); document.getElementById('box').style.transform = 'translateX(' + (n = (n + 1) % 500) + 'px)'; });
  </script>`);
  await pause(1_000);
  const { frames } = await traced(browser, page, () => pause(5_000));
  await page.context().close();
  return frames.map((f) => f.ms);
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

interface Of { readonly loads: { ms: number; bytes: number }[]; readonly classes: Worked[] }

const option = (name: string): string | undefined => process.argv.find((a) => a.startsWith(`--${name}=`))?.slice(name.length + 3);
/** Another checkout that was built, measured by turns with this one: --beside=../before */
const beside = option('beside');
const classes = Number(option('classes') ?? 1);
const noDay = process.argv.includes('--no-day');

export async function run(): Promise<void> {
  const sides = [...(beside === undefined ? [] : [['before', resolve(beside)] as const]), ['now', undefined] as const];
  const rooms = Array.from({ length: classes }, (_, k) => `r${k}`);
  const servers = await Promise.all(sides.map(async ([name, root]) => {
    const data = mkdtempSync(join(tmpdir(), 'hallclock-bench-'));
    mkdirSync(join(data, 'plans'));
    writeFileSync(join(data, 'plans', 'bench.json'), JSON.stringify(plan));
    return { name, server: await hallclock(rooms, 0, data, [], {}, root), of: { loads: [], classes: [] } as Of };
  }));
  const browser = await chromium.launch({ executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--no-first-run'] });
  const nothing = await empty(browser);
  for (let n = 0; n < LOADS; n += 1) for (const { server, of } of servers) of.loads.push(await load(browser, server.url));
  for (const room of rooms) for (const { server, of } of servers) of.classes.push(await aClass(browser, server.url, room));
  const last = servers.at(-1);
  const heap = noDay || !last ? [] : await day(browser, last.server.url);
  await browser.close();
  for (const { server } of servers) await server.close();

  const rows = servers.flatMap(({ name, of }) => {
    const ms = of.loads.map((l) => l.ms);
    const bytes = of.loads[0]?.bytes ?? Number.NaN;
    const inWork = of.classes.flatMap((c) => c.frames.filter((f) => f.mark === 'work').map((f) => f.ms));
    const all = of.classes.flatMap((c) => c.frames.filter((f) => f.mark !== '' && f.mark !== 'no class').map((f) => f.ms));
    const tasks = of.classes.flatMap((c) => c.tasks.filter((t) => t.mark !== ''));
    const long = tasks.filter((t) => t.ms > LONG_MS);
    process.stdout.write(long.map((t) => `${name}: a task of ${t.ms.toFixed(0)} ms at ${(t.atMs / 1_000).toFixed(1)} s, in ${t.mark}\n`).join(''));
    return [
      [`${name}: cold load until it shows, ms, ${ms.length} times`, median(ms), percentile(ms, 0.95), 2_500],
      [`${name}: script that the page names, compressed, kB`, bytes / 1_000, bytes / 1_000, 150],
      [`${name}: script and layout a frame in work, ms, ${inWork.length} frames`, median(inWork), percentile(inWork, 0.95), 6],
      [`${name}: the same in all of the class, ${all.length} frames`, median(all), percentile(all, 0.95), '-'],
      [`${name}: tasks over ${LONG_MS} ms in a class, of ${tasks.length}; and the longest, ms`, long.length, Math.max(0, ...tasks.map((t) => t.ms)), 0],
    ] as (string | number)[][];
  });
  table(`The screen, processor slowed ${SLOWED} times, 1920x1080 drawn without a graphics processor`, [
    ['', 'median', 'p95', 'to reach'], ...rows,
    [`a page that only moves a box, ms a frame, ${nothing.length} frames`, median(nothing), percentile(nothing, 0.95), '-'],
  ]);
  if (noDay) return;
  const line = slope(heap.slice(Math.floor(heap.length / 6)));
  table(`Memory over ${(DAY_MS * RATE * CLOCK / 3_600_000).toFixed(1)} h of classes at ${RATE * CLOCK} times the speed, kB after collecting, the first sixth left out`, [
    ['first', 'last', 'slope an hour of class', 'standard error'],
    [String(Math.round(heap[0]?.[1] ?? 0)), heap.at(-1)?.[1] ?? 0, line.perX, line.error],
  ]);
}
