/**
 * Owns pictures of phone and desk in fixed moments, into .cache/pictures/remote,
 * and the measurements that a picture cannot show: cut text, small targets, things
 * on top of each other. `npx tsx tests/pictures/remote.ts [pattern of a name]`.
 */
import { mkdirSync } from 'node:fs';
import { chromium, type Page } from '@playwright/test';
import { createServer } from 'vite';
import { flaws } from './flaws.ts';
import { answer } from './remote-answers.ts';

const root = new URL('../..', import.meta.url).pathname;
const out = `${root}.cache/pictures/remote`;

type Step = (page: Page) => Promise<unknown>;
interface Shot { readonly name: string; readonly query: string; readonly size?: readonly [number, number]; readonly dark?: boolean; readonly large?: boolean; readonly full?: boolean; readonly step?: Step }
const [tall, small, wide] = [[390, 844], [320, 640], [844, 390]] as const;
const moments = ['talk', 'follow-me', 'watch', 'set-up', 'set-up-floor', 'waits-in-set-up', 'count-in', 'work', 'right', 'left', 'other-side', 'rest', 'late',
  'paused', 'paused-water', 'match', 'match-in-set-up', 'long-side', 'reps', 'stations', 'move-round', 'over'];
const press = (text: string): Step => (page) => page.getByRole('button', { name: text, exact: true }).click();
/** The door check, so many steps on. */
const door = (skips: number): Step => async (page) => {
  await press('Door check')(page);
  for (let k = 0; k < skips; k += 1) await page.locator('.foot .big').click();
};
const shots: Shot[] = [
  ...moments.map((m) => ({ name: m, query: `state=${m}` })),
  ...['set-up-floor', 'late', 'paused', 'stations', 'match-in-set-up', 'over', 'reps', 'watch'].flatMap((m) => [
    { name: `${m}-small`, query: `state=${m}&pattern=2`, size: small },
    { name: `${m}-wide`, query: `state=${m}&pattern=5`, size: wide },
  ]),
  ...['right', 'paused', 'set-up-floor', 'over', 'late'].map((m) => ({ name: `${m}-dark`, query: `state=${m}&pattern=3`, dark: true })),
  ...['keep-moving', 'stood-long', 'stopped', 'help', 'out'].flatMap((m) => [
    { name: m, query: `state=${m}` },
    { name: `${m}-small`, query: `state=${m}&pattern=2`, size: small },
    { name: `${m}-wide`, query: `state=${m}&pattern=5`, size: wide },
    { name: `${m}-dark`, query: `state=${m}&pattern=3`, dark: true },
  ]),
  { name: 'help-bare', query: 'state=help&bare', full: true },
  ...[['', tall], ['-small', small], ['-wide', wide]].flatMap(([n, size]) => [
    { name: `here${n}`, query: 'state=work&here', size },
    { name: `alone${n}`, query: 'state=right&alone', size },
    { name: `sill${n}`, query: 'state=right&alone', size, step: press('Big digits') },
    { name: `call${n}`, query: 'state=right&call&led', size },
    { name: `more-here${n}`, query: 'state=right&here', size, step: press('More') },
    { name: `hand-over${n}`, query: 'state=right', size, step: async (page: Page) => { await press('More')(page); await press('Hand over')(page); } },
    { name: `door-room${n}`, query: 'state=choose', size, step: door(0) },
    { name: `door-screen${n}`, query: 'state=choose', size, step: door(1) },
    { name: `door-sound${n}`, query: 'state=choose', size, step: door(2) },
    { name: `door-free${n}`, query: 'state=choose', size, step: door(3) },
    { name: `door-here${n}`, query: 'state=choose&here', size, step: door(4) },
    { name: `emergency${n}`, query: 'state=choose', size, step: press('For a bad minute') },
  ] as Shot[]),
  ...([['', tall], ['-small', small], ['-wide', wide], ['-dark', tall], ['-large', tall]] as const).flatMap(([n, size]) => [
    { name: `battery${n}`, query: 'state=right&battery', size },
    { name: `led${n}`, query: 'state=right&led', size },
    { name: `rooms${n}`, query: 'state=right&rooms&here', size, step: async (page: Page) => { await press('More')(page); await page.getByText('Pair with another screen').scrollIntoViewIfNeeded(); } },
    { name: `arrived${n}`, query: 'state=arrived', size },
    { name: `cover${n}`, query: 'state=talk&cover&just-paired', size },
    { name: `sound-sheet${n}`, query: 'state=right', size, step: async (page: Page) => { await press('More')(page); await press('Sound')(page); } },
    { name: `end-sheet${n}`, query: 'state=right', size, step: async (page: Page) => { await press('More')(page); await press('End the class')(page); } },
  ].map((shot) => ({ ...shot, dark: n === '-dark', large: n === '-large' })) as Shot[]),
  ...([['dark', { dark: true }], ['large', { large: true }]] as const).flatMap(([n, how]) => [
    { name: `here-${n}`, query: 'state=work&here', ...how },
    { name: `call-${n}`, query: 'state=right&call&led', ...how },
    { name: `more-here-${n}`, query: 'state=right&here&rooms', ...how, step: press('More') },
    { name: `hand-over-${n}`, query: 'state=right', ...how, step: async (page: Page) => { await press('More')(page); await press('Hand over')(page); } },
    { name: `door-room-${n}`, query: 'state=choose', ...how, step: door(0) },
    { name: `door-screen-${n}`, query: 'state=choose', ...how, step: door(1) },
    { name: `door-sound-${n}`, query: 'state=choose', ...how, step: door(2) },
    { name: `door-free-${n}`, query: 'state=choose', ...how, step: door(3) },
    { name: `door-here-${n}`, query: 'state=choose&here', ...how, step: door(4) },
    { name: `emergency-${n}`, query: 'state=choose', ...how, step: press('For a bad minute') },
  ] as Shot[]),
  ...['work', 'paused', 'stopped', 'help', 'out', 'keep-moving', 'choose'].map((m) => ({ name: `${m}-large`, query: `state=${m}`, large: true })),
  { name: 'sill-dark', query: 'state=rest&alone', dark: true, step: press('Big digits') },
  { name: 'lost', query: 'state=right&lost', step: press('Ten more') },
  { name: 'refused', query: 'state=right', step: press('Ten more') },
  { name: 'refused-small', query: 'state=right&room=The%20long%20room%20over%20the%20yard', size: small, step: press('Ten more') },
  { name: 'more', query: 'state=right', step: press('More') },
  { name: 'more-wide', query: 'state=right', size: wide, step: press('More') },
  { name: 'end', query: 'state=right', step: async (page: Page) => { await press('More')(page); await press('End the class')(page); } },
  { name: 'pair', query: 'state=pair' },
  { name: 'pair-small', query: 'state=pair', size: small },
  { name: 'pair-wide', query: 'state=pair', size: wide },
  { name: 'pair-refused', query: 'state=pair&code=123456' },
  { name: 'choose', query: 'state=choose', full: true },
  { name: 'choose-small', query: 'state=choose', size: small },
  { name: 'plan', query: 'state=choose', full: true, step: (page: Page) => page.getByRole('button', { name: /Forty twenty/ }).click() },
  { name: 'plan-dark', query: 'state=choose', dark: true, step: (page: Page) => page.getByRole('button', { name: /First steps/ }).click() },
  { name: 'plan-wide', query: 'state=choose', size: wide, step: (page: Page) => page.getByRole('button', { name: /Forty twenty/ }).click() },
  { name: 'desk-home', query: 'state=desk-home', size: [1280, 800], full: true },
  { name: 'desk-home-phone', query: 'state=desk-home', full: true },
  { name: 'desk-class', query: 'state=desk-class', size: [1280, 800], full: true },
  { name: 'desk-class-dark', query: 'state=desk-class', size: [1280, 800], dark: true },
  { name: 'desk-class-phone', query: 'state=desk-class' },
  { name: 'desk-running', query: 'state=desk-running', size: [1280, 800] },
];

mkdirSync(out, { recursive: true });
const server = await createServer({ configFile: `${root}remote/vite.config.ts`, logLevel: 'error', server: { port: 5199, host: '127.0.0.1', watch: null, fs: { allow: [root] } } });
await server.listen();
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic', '--no-first-run'],
});
let bad = 0;
const wanted = new RegExp(process.argv[2] ?? '');
for (const shot of shots.filter((s) => wanted.test(s.name))) {
  const [width, height] = shot.size ?? tall;
  const page = await browser.newPage({ viewport: { width, height }, colorScheme: shot.dark ? 'dark' : 'light' });
  const errors: string[] = [];
  page.on('pageerror', (e) => errors.push(e.message));
  await answer(page);
  // The runner names functions by a helper that the page does not have.
  await page.addInitScript('globalThis.__name = (f) => f');
  if (shot.query.includes('battery')) await page.addInitScript('navigator.getBattery = async () => Object.assign(new EventTarget(), { level: 0.14, charging: false })');
  await page.goto(`http://127.0.0.1:5199/samples/?${shot.query}`);
  await page.waitForSelector('html[data-ready]', { timeout: 20_000, state: 'attached' });
  if (shot.large) await page.addStyleTag({ content: 'html { font-size: 200% }' });
  await page.evaluate(() => document.fonts.ready);
  await page.waitForTimeout(150);
  if (shot.step) {
    await shot.step(page);
    await page.waitForTimeout(250);
  }
  await page.screenshot({ path: `${out}/${shot.name}.png`, fullPage: shot.full ?? false });
  const found = [...errors, ...(await page.evaluate(flaws))];
  bad += found.length;
  process.stdout.write(`${shot.name}${found.map((f) => `\n  ${f}`).join('')}\n`);
  await page.close();
}
await browser.close();
await server.close();
process.exitCode = bad === 0 ? 0 : 1;
