/**
 * Records two real screens of one room through a pause, an extension, two skips, a reload and ten
 * seconds without the network, with music: `npx tsx tests/sound/live.ts [--load]`, after
 * `npm run build`. Compares signals and captions with the log, the two screens with each
 * other, and measures how far the music stands back. Ends with 1 unless all was there, in
 * order, none extra.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { loadavg } from 'node:os';
import { type BrowserContext, chromium, type Page } from '@playwright/test';
import { toWav } from '../../media/sounds/wav.ts';
import type { PlanInput } from '../../shared/plan/plan.ts';
import type { Session } from '../../shared/session/session.ts';
import { view } from '../../shared/view/view.ts';
import { device, live, pair } from '../server/serve.ts';
import { studio } from '../browser/studio.ts';
import { type Expected, expectedOf, readingsOf } from './expected.ts';
import { heard, type Heard, outs, quantile, tap, taken, type Taken } from './tap.ts';

const plan: PlanInput = {
  format: 1, id: 'live', name: 'Live', group: 'general',
  sections: [{
    id: 'm', kind: 'main', show: 'none', rest: 20, lastRest: false,
    items: [
      { movement: 'squat', work: 20 }, { movement: 'reverse-lunge', work: 12 }, { movement: 'march-in-place', work: 8 },
      { movement: 'squat', work: 14 }, { movement: 'march-in-place', work: 5 },
    ],
  }],
};
const options = { halfway: false };
const say = (line: string) => process.stdout.write(`${line}\n`);
const wall = () => performance.timeOrigin + performance.now();
const wait = (ms: number) => new Promise<void>((resolve) => { setTimeout(resolve, ms); });
const numbers = (name: string, xs: readonly number[]) =>
  say(`${name}: n ${xs.length}, median ${quantile(xs, 0.5).toFixed(1)}, p95 of its size ${quantile(xs.map(Math.abs), 0.95).toFixed(1)}, largest ${Math.max(...xs.map(Math.abs)).toFixed(1)}`);

const hall = await studio([plan]);
mkdirSync(`${hall.data}/music`);
const RATE = 24_000;
writeFileSync(`${hall.data}/music/tone.wav`, toWav(Float64Array.from({ length: RATE * 300 }, (_, i) => 0.3 * Math.sin((2 * Math.PI * 300 * i) / RATE)), RATE));
await hall.start();
const browser = await chromium.launch({
  executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium', ignoreDefaultArgs: ['--mute-audio'],
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic', '--no-first-run'],
});
/** The level of what goes to the loudspeaker beside the signals: every 20 ms, in decibels. */
const music = `(() => {
  const { ctx, masterGain } = window.Howler;
  window.levels = [];
  const node = ctx.createAnalyser();
  node.fftSize = 1024;
  for (const out of window.outs) if (out !== masterGain && out.context === ctx && !(out instanceof AudioWorkletNode)) out.connect(node);
  const x = new Float32Array(1024);
  setInterval(() => { node.getFloatTimeDomainData(x); window.levels.push([ctx.currentTime * 1000, 10 * Math.log10(x.reduce((s, v) => s + v * v, 1e-12) / 1024)]); }, 20);
})()`;
async function open(): Promise<{ context: BrowserContext; page: Page }> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 }, bypassCSP: true });
  await context.addInitScript(outs);
  const page = await context.newPage();
  page.on('pageerror', (error) => process.stderr.write(`page: ${error.message}\n`));
  await page.goto(`${hall.url}/screen`);
  return { context, page };
}
async function unlock(page: Page): Promise<void> {
  await page.waitForTimeout(1_500);
  await page.keyboard.press('a');
  await page.waitForFunction('window.Howler.ctx.state === "running"');
  await tap(page);
}
const [one, two] = [await open(), await open()];
await Promise.all([unlock(one.page), unlock(two.page)]);
const desk = device(hall.url, 'desk');
const helper = device(hall.url, 'screen');
const phone = device(hall.url, 'phone', await pair(hall.url, helper));
helper.close();
await Promise.all([desk.until(live, 'desk'), phone.until(live, 'phone')]);
await phone.room().sound({ do: 'music', music: { on: true, volume: 10 } });
await phone.until((r) => r.about?.sound.playing === 'tone', 'the music');
await Promise.all([one, two].map(({ page }) => page.evaluate(music)));
if (process.argv.includes('--load')) for (const { page } of [one, two]) await page.evaluate('void setInterval(() => { const t = performance.now(); while (performance.now() - t < 60); }, 200)');
await wait(2_500);

const sessions: Session[] = [];
const unfollow = desk.link.subscribe(() => {
  const { session } = desk.room();
  if (session && session !== sessions.at(-1)) sessions.push(session);
});
await phone.room().send({ type: 'start', plan: 'live', freeAt: null });
const { session: begun } = await phone.until((r) => r.session !== null, 'the class');
if (!begun) throw new Error('no class');
const at = async (s: number) => wait(begun.startedAt + s * 1_000 - (desk.room().now() ?? 0));
const seen = () => {
  const { session, now } = phone.room();
  const t = now();
  if (!session || t === null) throw new Error('no class');
  return view(session, t);
};
const told = (name: string, sent: unknown) => say(`${name}: ${JSON.stringify(sent)}`);
await at(10);
told('pause', await phone.room().send({ type: 'pause', reason: null }));
await at(13);
told('carry on', await phone.room().send({ type: 'carry-on', pause: 1 }));
await at(20);
told('extend', await phone.room().send({ type: 'extend', occurrence: seen().occurrence, byMs: 3_000 }));
// The work ends at 32, the next count begins at 49.
await at(34);
const early = await taken(two.page);
const gone = wall();
await two.page.reload();
await unlock(two.page);
const back = wall();
await at(53);
await one.context.setOffline(true);
await at(63);
await one.context.setOffline(false);
// In the middle of the next count-in, which begins at 86, and in the middle of the work after it.
await at(87.5);
told('move on', await phone.room().send({ type: 'move-on', occurrence: seen().occurrence }));
for (let n = 0; n < 120 && seen().phase !== 'work'; n += 1) await wait(250);
await wait(5_300);
told('move on', await phone.room().send({ type: 'move-on', occurrence: seen().occurrence }));
for (let n = 0; n < 120 && seen().phase !== 'over'; n += 1) await wait(500);
await wait(2_500);
const wallOfServer = wall() - (desk.room().now() ?? 0);
const takes: readonly Taken[] = [await taken(one.page), await taken(two.page)];
const levels = (await one.page.evaluate('window.levels')) as [number, number][];
await browser.close();

const due = expectedOf(sessions, options);
const dueMs = (s: Expected) => s.at + wallOfServer;
const classHeard = (t: Taken) => heard(t).filter((h) => h.wallMs > begun.startedAt + wallOfServer - 500);
const first = classHeard(takes[0] as Taken);
const second = [...classHeard(early), ...classHeard(takes[1] as Taken)];
const sequence = (list: readonly { kind: string }[]) => list.map((s) => s.kind).join(' ');
const match = (list: readonly Heard[], s: Expected) => list.find((h) => h.kind === s.kind && Math.abs(h.wallMs - dueMs(s)) < 400);
const inReload = due.filter((s) => dueMs(s) > gone && dueMs(s) < back);
say(`load average ${loadavg()[0]?.toFixed(1)}; the second screen was away for ${((back - gone) / 1_000).toFixed(1)} s, its touch in it, and ${inReload.length} signals were due meanwhile`);
const judge = (name: string, list: readonly Heard[], wanted: readonly Expected[]) => {
  const same = sequence(list) === sequence(wanted);
  if (!same) process.exitCode = 1;
  say(`${name}: ${wanted.length} signals by the log, ${list.length} sounded${same ? ': the same, in order, none extra' : `, NOT THE SAME\nlog   ${sequence(wanted)}\nheard ${sequence(list)}`}`);
};
judge('first screen (10 s without the network)', first, due);
judge('second screen (reloaded in the rest)', second, due.filter((s) => !inReload.includes(s)));
const errors = (list: readonly Heard[], byHand: boolean) => due.filter((s) => s.byHand === byHand).flatMap((s) => {
  const h = match(list, s);
  return h ? [h.wallMs - dueMs(s)] : [];
});
for (const [name, list] of [['first', first], ['second', second]] as const) {
  numbers(`${name} screen, planned ahead, ms`, errors(list, false));
  numbers(`${name} screen, what a command says, ms against its instant`, errors(list, true));
  say(`  ${due.filter((s) => s.byHand).map((s) => { const h = match(list, s); return h ? `${s.kind} ${(h.wallMs - dueMs(s)).toFixed(1)}` : `${s.kind} -`; }).join(', ')}; output latency as the browser says it ${quantile(list.map((h) => h.latencyMs), 0.5).toFixed(0)}`);
}
numbers('between the two screens, ms', due.flatMap((s) => {
  const [a, b] = [match(first, s), match(second, s)];
  return a && b ? [a.wallMs - b.wallMs] : [];
}));

// The captions: what stood in the corner and for how long, against what the log says must have.
const readings = readingsOf(due);
const words = new Set(readings.map((r) => r.text));
for (const [name, captions, away] of [
  ['first', (takes[0] as Taken).captions, [Number.POSITIVE_INFINITY, 0]], ['second', [...early.captions, ...(takes[1] as Taken).captions], [gone, back]],
] as const) {
  const stood = captions.map(([from, text], i) => ({ text, from, to: captions[i + 1]?.[0] ?? from }))
    .filter((c) => words.has(c.text) && c.from > begun.startedAt + wallOfServer);
  const wanted = readings.filter((r) => !(r.to + wallOfServer > (away[0] ?? 0) && r.from + wallOfServer < (away[1] ?? 0)));
  const same = stood.map((c) => c.text).join('|') === wanted.map((r) => r.text).join('|');
  if (!same) process.exitCode = 1;
  say(`captions, ${name} screen: ${wanted.length} by the log, ${stood.length} stood${same ? ': the same, in order, none extra' : `, NOT THE SAME\nlog   ${wanted.map((r) => r.text).join(' | ')}\nstood ${stood.map((c) => c.text).join(' | ')}`}`);
  if (!same) continue;
  numbers('  ms after their instant', stood.map((c, i) => c.from - wallOfServer - (wanted[i]?.from ?? 0)));
  const held = stood.map((c, i) => ({ text: c.text, ms: c.to - c.from, less: (wanted[i]?.to ?? 0) - (wanted[i]?.from ?? 0) - (c.to - c.from) }));
  const least = held.reduce((a, b) => (b.ms < a.ms ? b : a));
  say(`  held for ${least.ms.toFixed(0)} ms at least ("${least.text}"), median ${quantile(held.map((h) => h.ms), 0.5).toFixed(0)}; at most ${Math.max(...held.map((h) => h.less)).toFixed(0)} ms shorter than the log says`);
}

// The music: its level while each signal sounds, against its level when nothing has for long.
const pairs = (takes[0] as Taken).pairs;
const audioOf = (wallMs: number) => wallMs + quantile(pairs.map(([w, a]) => a - w), 0.5);
const loud = levels.filter(([, db]) => db > -60).map(([, db]) => db);
const full = quantile(loud, 0.95);
const depths = first.filter((h) => h.kind !== 'paused' && h.kind !== 'class-end').flatMap((h) => {
  const from = audioOf(h.wallMs) + 60;
  const near = levels.filter(([t]) => t > from && t < from + 200).map(([, db]) => db - full);
  // After a pause the music is only coming back.
  return near.length > 0 && h.kind !== 'resumed' ? [quantile(near, 0.5)] : [];
});
say(`music under a signal, dB against full: n ${depths.length}, median ${quantile(depths, 0.5).toFixed(1)}, nine tenths above ${quantile(depths, 0.1).toFixed(1)}, at most ${Math.max(...depths).toFixed(1)}`);
say(`the music came up above -3 dB ${levels.filter(([, db], i) => db - full > -3 && (levels[i - 1]?.[1] ?? 0) - full <= -3).length} times in the run`);
if (process.argv.includes('--each')) for (const h of first) say(`${((h.wallMs - wallOfServer - begun.startedAt) / 1_000).toFixed(3)} ${h.kind}`);
unfollow();
phone.close();
desk.close();
await hall.close();
