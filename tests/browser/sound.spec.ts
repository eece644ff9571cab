/** Drives the sound of a room as people meet it: silent, cured by a key, known to the phone; then a short class is recorded and every signal is in it once. */
import { signalsBetween } from '../../shared/view/signals.ts';
import { after } from '../../shared/time/units.ts';
import { heard, quantile, taken, tap } from '../sound/tap.ts';
import { device, live } from '../server/serve.ts';
import { codeOn, open, press } from './hands.ts';
import { studio } from './studio.ts';
import type { PlanInput } from '../../shared/plan/plan.ts';
import { expect, test } from './test.ts';

/** Every signal lies some seconds after what was pressed: a count at the very instant of a start may come too late to be one (C9). */
const plan: PlanInput = {
  format: 1, id: 'heard', name: 'Heard', group: 'general',
  sections: [{ id: 'main', kind: 'main', show: 'none', setUp: 8, rest: 8, lastRest: false, items: [{ movement: 'squat', work: 4 }, { movement: 'march-in-place', work: 4 }] }],
};

test.use({ bypassCSP: true });

test('C24 C26 W60 W61 the screen says that it is silent, a key cures it, the phone knows; a recorded class has every signal once', async ({ browser }) => {
  const hall = await studio([plan]);
  await hall.start();
  const { screen, phone } = await open(browser, hall);
  // Every look of the driver counts as a touch for the browser; before the first one the sound must have been made.
  const made = screen.waitForResponse((r) => /room-\d+\.wav$/.test(r.url()), { timeout: 60_000 });
  await screen.reload();
  await made;
  await expect(screen.getByRole('button', { name: 'Sound is off. Press any key.' })).toBeVisible();
  await phone.goto(`${hall.url}/phone?code=${await codeOn(screen)}`);
  await expect(phone.getByText('The screen is silent: press a key on it.')).toBeVisible();

  await test.step('one key press', async () => {
    await screen.keyboard.press('a');
    await expect(screen.getByRole('button', { name: 'Test the sound' })).toBeVisible();
    await expect(phone.getByText('The screen can be heard.')).toBeVisible();
  });
  await tap(screen);

  await test.step('the phone makes the screen sound one signal', async () => {
    await press(phone, 'Sound');
    await press(phone, 'Sound the screen now');
    await expect(screen.getByText('go', { exact: true })).toBeVisible();
    await expect(screen.getByRole('button', { name: 'Test the sound' })).toBeVisible();
    await press(phone, 'Close');
  });

  await test.step('the panel that sets the sound against the picture, by keys', async () => {
    await screen.getByRole('button', { name: 'In time?' }).click();
    for (const key of ['ArrowRight', 'ArrowRight', 'ArrowUp']) await screen.keyboard.press(key);
    await expect(screen.getByText('Sound 25 ms earlier')).toBeVisible();
    await screen.keyboard.press('0');
    await screen.waitForTimeout(1_500);
    await screen.keyboard.press('Enter');
    await expect(screen.getByText('Does it sound')).toBeHidden();
    // The keys meant nothing else: no plan was laid out.
    await expect(screen.locator('.doors .title')).not.toHaveText('Heard');
  });

  const desk = device(hall.url, 'desk');
  await desk.until(live, 'the desk');
  const before = performance.timeOrigin + performance.now();
  await press(phone, /^Heard/);
  await press(phone, 'Start');
  const { session } = await desk.until((r) => r.session !== null, 'the class');
  if (!session) throw new Error('no class');
  await expect(screen.locator('.class .title')).toHaveText('Well done', { timeout: 60_000 });
  await screen.waitForTimeout(2_300);
  const wallOfServer = performance.timeOrigin + performance.now() - (desk.room().now() ?? 0);
  const due = signalsBetween(session, session.startedAt, after(session.startedAt, 60_000), { halfway: false });
  const sounded = heard(await taken(screen)).filter((h) => h.wallMs > before);
  expect(sounded.map((h) => h.kind)).toEqual(due.map((s) => s.kind));
  // How far off they are is measured by tests/sound/live.ts; here it is only told.
  const errors = sounded.map((h, i) => Math.abs(h.wallMs - wallOfServer - (due[i]?.at ?? 0)));
  process.stdout.write(`off by ${quantile(errors, 0.5).toFixed(1)} ms in the middle, ${Math.max(...errors).toFixed(1)} at most\n`);
  desk.close();
  await hall.close();
});
