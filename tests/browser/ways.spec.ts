/** Drives the ways to end on time as an instructor does who is late: offered, taken with one tap, taken back with one. */
import type { PlanInput } from '../../shared/plan/plan.ts';
import { codeOn, open, press, title } from './hands.ts';
import { studio } from './studio.ts';
import { expect, test } from './test.ts';

const tight: PlanInput = {
  format: 1, id: 'tight', name: 'Tight class', slot: 150,
  sections: [{ id: 'main', kind: 'main', show: 'none', work: 40, rest: 20, rounds: 4, items: [{ movement: 'squat' }] }],
};

test('F3 a late class offers ways to its end; one is taken with a tap and taken back with another', async ({ browser }) => {
  const hall = await studio([tight]);
  await hall.start();
  const { screen, phone } = await open(browser, hall);
  await phone.goto(`${hall.url}/phone?code=${await codeOn(screen)}`);
  await press(phone, /^Tight class/);
  await press(phone, 'Start');
  await expect(title(screen)).toHaveText('Squat');
  const line = phone.locator('.line');
  await expect(line).toContainText('late');
  await press(phone, /Ways to end at/);
  const ways = phone.getByRole('dialog').locator('.way');
  expect(await ways.count()).toBeGreaterThan(0);
  expect(await ways.count()).toBeLessThanOrEqual(3);
  await expect(ways.first()).toContainText(/ends \d\d:\d\d:\d\d/);
  await phone.screenshot({ path: new URL('../../.cache/pictures/live/ways-phone.png', import.meta.url).pathname });
  await ways.first().click();
  await expect(line).toContainText('On time');
  await expect(screen.locator('.class .corner')).not.toHaveText(/late/i);
  await press(phone, 'Undo');
  await expect(line).toContainText('late');
  await press(phone, 'More');
  await press(phone, 'Change the class');
  await phone.screenshot({ path: new URL('../../.cache/pictures/live/changes-phone.png', import.meta.url).pathname, fullPage: true });
  await press(phone, 'Drop round 4');
  await expect(screen.locator('.class .corner')).toHaveText('Round 1 of 3');
  await hall.close();
});
