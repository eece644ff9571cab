/**
 * Drives a class whose signals sound from the phone and then from both: what the phone and the screen put out is
 * recorded, what the phone buzzes and the screen says is written down, and all is compared with the plan.
 * On a slow machine a buzz or a word may come too late to be given; none may come twice, early, or beside the plan.
 */
import type { Page } from '@playwright/test';
import type { PlanInput } from '../../shared/plan/plan.ts';
import { buzzes } from '../../shared/sound/buzz.ts';
import { isCount, LATE_MS } from '../../shared/view/signal-kinds.ts';
import { expectedOf, readingsOf } from '../sound/expected.ts';
import { heard, taken, tap } from '../sound/tap.ts';
import { device, live, pair } from '../server/serve.ts';
import { codeOn, open, press } from './hands.ts';
import { studio } from './studio.ts';
import { expect, test } from './test.ts';

const plan: PlanInput = {
  format: 1, id: 'there', name: 'There', group: 'general',
  sections: [{ id: 'main', kind: 'main', show: 'none', setUp: 6, rest: 10, lastRest: false, items: [{ movement: 'squat', work: 4 }, { movement: 'reverse-lunge', work: 8 }] }],
};
const wall = () => performance.timeOrigin + performance.now();
const written = `window.written = []; const note = (what) => window.written.push([performance.timeOrigin + performance.now(), what]);`;
const noBuzz = `${written} Object.defineProperty(navigator, 'vibrate', { value: (pattern) => { note(JSON.stringify(pattern)); return true; } });`;
const noVoice = `${written}
window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; this.voice = null; } };
Object.defineProperty(window, 'speechSynthesis', { value: {
  getVoices: () => [{ name: 'Moira', lang: 'en-IE' }], addEventListener() {}, removeEventListener() {}, cancel() {},
  speak: (u) => note(u.text + ', ' + (u.voice ? u.voice.name : 'nobody')),
} });`;
type Written = readonly (readonly [wallMs: number, what: string])[];
const writtenOn = (page: Page) => page.evaluate('window.written') as Promise<Written>;
/** Whether all of one list is in the other, in its order. */
const within = (some: readonly string[], all: readonly string[]): boolean => {
  let k = 0;
  for (const one of all) if (k < some.length && some[k] === one) k += 1;
  return k === some.length;
};

test.use({ bypassCSP: true });

test('C145 C23 C25 C11 signals from the phone instead of the screen, then from both: each once where it is wanted, buzzed, captioned, and spoken clear of every count', async ({ browser }) => {
  const hall = await studio([plan]);
  await hall.start();
  const { screen, phone } = await open(browser, hall);
  await screen.addInitScript(noVoice);
  await phone.addInitScript(noBuzz);
  await screen.reload();
  await phone.goto(`${hall.url}/phone?code=${await codeOn(screen)}`);
  await screen.keyboard.press('a');
  await press(screen, 'No voice');
  await expect(screen.getByRole('button', { name: 'Voice: Moira' })).toBeVisible();
  await tap(screen);
  await press(phone, 'Sound');
  await press(phone, 'This phone');
  await expect(phone.getByText('Signals sound from this phone.').first()).toBeVisible();
  await press(phone, 'Sound this phone');
  await phone.waitForFunction('window.Howler?.ctx?.state === "running"');
  await tap(phone);
  await expect(phone.getByRole('button', { name: 'Sound this phone' })).toBeEnabled();
  await press(phone, 'Close');

  const helper = device(hall.url, 'screen');
  const hand = device(hall.url, 'phone', await pair(hall.url, helper));
  await hand.until(live, 'a second phone');
  helper.close();
  await press(phone, /^There/);
  await press(phone, 'Start');
  const { session } = await hand.until((r) => r.session !== null, 'the class');
  if (!session) throw new Error('no class');
  const due = expectedOf([session], { halfway: false });
  const turn = due.find((s) => s.kind === 'end')?.at ?? 0;
  await expect.poll(() => hand.room().now() ?? 0, { intervals: [50] }).toBeGreaterThan(turn + 1_000);
  await hand.room().sound({ do: 'place', from: 'both' });
  await expect(screen.locator('.class .title')).toHaveText('Well done', { timeout: 60_000 });
  await screen.waitForTimeout(2_600);

  const wallOfServer = wall() - (hand.room().now() ?? 0);
  const begun = session.startedAt + wallOfServer;
  const [here, there] = [await taken(phone), await taken(screen)];
  const kinds = (list: readonly { kind: string }[]) => list.map((s) => s.kind);
  expect(kinds(heard(here).filter((h) => h.wallMs > begun)), 'the phone sounds all').toEqual(kinds(due));
  expect(kinds(heard(there).filter((h) => h.wallMs > begun)), 'the screen sounds what comes after the turn').toEqual(kinds(due.filter((s) => s.at > turn)));

  // A single number is the short answer to a press.
  const buzzed = (await writtenOn(phone)).filter(([at, pattern]) => at > begun && pattern.startsWith('['));
  const patterns = due.map((s) => JSON.stringify(buzzes[s.kind]));
  expect(within(buzzed.map(([, p]) => p), patterns), `buzzed ${buzzed.map(([, p]) => p).join(' ')}`).toBe(true);
  expect(buzzed.length).toBeGreaterThan(due.length / 3);
  for (const [at, pattern] of buzzed) {
    const its = due.some((s) => JSON.stringify(buzzes[s.kind]) === pattern && at - wallOfServer > s.at - 60 && at - wallOfServer < s.at + LATE_MS + 250);
    expect(its, `${pattern} at ${at - begun} ms`).toBe(true);
  }

  const words = ['Change sides, Moira', 'Well done, Moira'];
  const spoken = (await writtenOn(screen)).filter(([at]) => at > begun);
  expect(spoken.length).toBeGreaterThan(0);
  expect(within(spoken.map(([, what]) => what), words), spoken.map(([, what]) => what).join(' | ')).toBe(true);
  for (const [at] of spoken) {
    const from = at - wallOfServer;
    expect(due.some((s) => (isCount(s.kind) || s.kind === 'go') && s.at > from && s.at < from + 1_000), 'a count in the words').toBe(false);
  }

  const readings = readingsOf(due).map((r) => r.text);
  const stood = there.captions.map(([, text]) => text).filter((text, i, all) => readings.includes(text) && text !== all[i - 1]);
  expect(stood).toEqual(readings);
  hand.close();
  await hall.close();
});
