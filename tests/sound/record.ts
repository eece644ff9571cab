/**
 * Records a sounding class in the real browser and compares it with the plan:
 * `npx tsx tests/sound/record.ts [--load] [--each]`. All signals there, in order, none
 * extra; errors as median and p95. With --load the page's processor is kept busy.
 */
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { chromium } from '@playwright/test';
import react from '@vitejs/plugin-react';
import { build } from 'vite';
import { fromWav } from '../../media/sounds/wav.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import type { Event } from '../../shared/session/command.ts';
import { evolve } from '../../shared/session/evolve.ts';
import type { Session } from '../../shared/session/session.ts';
import type { ServerAt } from '../../shared/time/units.ts';
import type { SignalKind } from '../../shared/view/signal-kinds.ts';
import { START } from '../random/class.ts';
import { expectedOf } from './expected.ts';
import { onsets, resample } from './onsets.ts';

const plan = planSchema.parse({
  format: 1, id: 'check', name: 'Sound check',
  sections: [
    { id: 'a', kind: 'warm-up', work: 26, rest: 5, rounds: 1, items: [{ movement: 'squat' }] },
    {
      id: 'b', kind: 'main', show: 'none', work: 12, rest: 5, rounds: 1, lastRest: false,
      items: [{ movement: 'lunge' }, { movement: 'march', work: 6 }, { movement: 'squat', work: 6 }, { movement: 'march', work: 6 }],
    },
  ],
});
type Step = readonly [atS: number, command: 'pause' | 'carry-on' | 'extend' | 'move-on', byMs?: number];
/** Seconds after the start: a pause in the first side, carrying on, three more seconds of march, and a squat that is left early. */
const steps: readonly Step[] = [[36, 'pause'], [38.8, 'carry-on'], [65.3, 'extend', 3_000], [78.6, 'move-on']];
const END_S = 100;

const options = { halfway: true };

/** The signals that the log says there were. */
function wanted(events: readonly Event[]) {
  const log: Session[] = [];
  for (const event of events) log.push(evolve(log.at(-1) ?? null, event));
  return expectedOf(log, options);
}

const quantile = (values: readonly number[], q: number) => [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(values.length * q))] ?? Number.NaN;

const root = new URL('../../', import.meta.url).pathname;
const outDir = join(tmpdir(), `hallclock-sound-page-${process.pid}`);
await build({ root: join(root, 'tests/sound/page'), base: './', plugins: [react()], logLevel: 'error', build: { outDir, emptyOutDir: true } });
const types: Record<string, string> = { '.html': 'text/html', '.js': 'text/javascript', '.wav': 'audio/wav', '.json': 'application/json' };
const server = createServer((request, answer) => {
  const path = new URL(request.url ?? '/', 'http://x').pathname;
  try {
    const file = readFileSync(path.startsWith('/media/sounds/') ? join(root, path) : join(outDir, path === '/' ? 'index.html' : path));
    answer.writeHead(200, { 'content-type': types[extname(path) || '.html'] ?? 'application/octet-stream' }).end(file);
  } catch {
    answer.writeHead(404).end();
  }
});
await new Promise<void>((resolve) => { server.listen(0, '127.0.0.1', () => resolve()); });
const address = server.address();
const port = typeof address === 'object' && address ? address.port : 0;

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', ignoreDefaultArgs: ['--mute-audio'],
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic', '--no-first-run'],
});
const page = await browser.newPage();
page.on('pageerror', (error) => process.stderr.write(`page: ${error.message}\n`));
await page.goto(`http://127.0.0.1:${port}/`);
await page.waitForFunction('window.check.state() === "locked" || document.title !== "Sound check"', null, { timeout: 20_000 });
process.stdout.write(`before a touch: ${await page.evaluate('window.check.state()')}\n`);
await page.click('button');
await page.waitForFunction('window.check.state() === "on"', null, { timeout: 10_000 });
process.stdout.write('after one click: on\n');
await page.evaluate('window.check.tap()');
await new Promise((resolve) => setTimeout(resolve, 1_500));
// Busy for 120 of every 200 ms, as a weak television drawing a figure is.
if (process.argv.includes('--load')) await page.evaluate('void setInterval(() => { const t = performance.now(); while (performance.now() - t < 120); }, 200)');
const begun = Date.now();
await page.evaluate(`window.check.begin(${JSON.stringify(plan)})`);
for (const [atS, command, byMs] of steps) {
  await new Promise((resolve) => setTimeout(resolve, begun + atS * 1_000 - Date.now()));
  const done = await page.evaluate(`window.check.say(${JSON.stringify(command)}, ${byMs ?? 'undefined'})`);
  process.stdout.write(`${atS} s ${command}: ${done ? 'taken' : 'refused'}\n`);
}
await new Promise((resolve) => setTimeout(resolve, begun + END_S * 1_000 - Date.now()));
type Taken = ReturnType<Window['check']['taken']>;
const taken = (await page.evaluate('window.check.taken()')) as Taken;
await browser.close();
server.close();

const pcm = Buffer.from(taken.samples, 'base64');
const x = Float64Array.from({ length: pcm.length / 2 }, (_, i) => pcm.readInt16LE(i * 2) / 32_767);
const sprite = JSON.parse(readFileSync(join(root, 'media/sounds/sprite.json'), 'utf8')) as { signals: Record<SignalKind, [number, number]> };
const wav = fromWav(readFileSync(join(root, 'media/sounds/room-0.wav')));
const cut = (at: number, ms: number) => wav.samples.slice((at * wav.rate) / 1_000, ((at + ms) * wav.rate) / 1_000);
const templates = Object.entries(sprite.signals).map(([kind, [at, ms]]) => ({ kind: kind as SignalKind, samples: resample(cut(at, ms), wav.rate, taken.rate) }));

// The tap's own relation of the clocks, by other means than the product's: near each sound the furthest that the
// audio clock was ahead, less the latencies stated there. An audio device may slip, so one relation does not hold for all.
const NEAR_MS = 700;
function aheadAt(audioMs: number): number {
  const near = taken.pairs.filter(([, audio]) => Math.abs(audio - audioMs) < NEAR_MS);
  return Math.max(...near.map(([device, audio]) => audio - device)) - quantile(near.map(([, , latency]) => latency), 0.5);
}
const toClassMs = (audioMs: number) => audioMs - aheadAt(audioMs) - taken.zero;
const aheads = taken.pairs.filter((_, i) => i % 90 === 45).map(([, audio]) => aheadAt(audio));
process.stdout.write(`the audio device slipped by ${(Math.max(...aheads) - Math.min(...aheads)).toFixed(1)} ms against the clock in the run\n`);
const found = onsets(x, taken.rate, templates).map((o) => {
  const audioMs = o.atMs + (taken.first * 1_000) / taken.rate;
  return { ...o, atMs: toClassMs(audioMs) };
});
const due = wanted(taken.events).map((s) => ({ kind: s.kind, byHand: s.byHand, atMs: s.at - (START as ServerAt) }));

const sequence = (list: readonly { kind: string }[]) => list.map((s) => s.kind).join(' ');
const same = sequence(found) === sequence(due);
process.stdout.write(`${due.length} signals planned, ${new Set(due.map((d) => d.kind)).size} of 15 kinds; ${found.length} sounds recorded; ${same ? 'the same, in order, none extra' : `NOT THE SAME\nplanned  ${sequence(due)}\nrecorded ${sequence(found)}`}\n`);
if (same) {
  const errors = found.map((f, i) => ({ ...f, error: f.atMs - (due[i]?.atMs ?? 0), byHand: due[i]?.byHand ?? false }));
  const planned = errors.filter((e) => !e.byHand).map((e) => e.error);
  const sizes = planned.map(Math.abs);
  const line = (name: string, values: readonly number[]) => process.stdout.write(`${name}: ${values.map((v) => v.toFixed(1)).join(', ')}\n`);
  line('planned ahead, ms: median error, p95 of its size, largest', [quantile(planned, 0.5), quantile(sizes, 0.95), Math.max(...sizes)]);
  process.stdout.write(`what a command says, ms against its instant: ${errors.filter((e) => e.byHand).map((e) => `${e.kind} ${e.error.toFixed(1)}`).join(', ')}\n`);
  process.stdout.write(`least likeness to our own sound: ${Math.min(...errors.map((e) => e.likeness)).toFixed(3)}; captions: ${taken.captions.length}\n`);
  if (process.argv.includes('--each')) for (const e of errors) process.stdout.write(`${(e.atMs / 1_000).toFixed(3)} ${e.kind} ${e.error.toFixed(1)}${e.byHand ? ' by hand' : ''}\n`);
  process.exitCode = quantile(sizes, 0.95) <= 10 && Math.max(...sizes) <= 25 ? 0 : 1;
} else process.exitCode = 1;
