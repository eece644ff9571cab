/** Drives what a room needs in its bad minute and at the door, in real browsers, with a cut network too. */
import { codeOn, open, press, settle, title } from './hands.ts';
import { shortPlan, studio } from './studio.ts';
import { expect, test } from './test.ts';

test('R130 door check, here today, keep moving, stop and back to paused, with a cut network too', async ({ browser }) => {
  const hall = await studio([shortPlan]);
  await hall.start();
  const { screen, phone } = await open(browser, hall);
  await phone.goto(`${hall.url}/phone?code=${await codeOn(screen)}`);

  await test.step('the door check: the same picture, one signal, who is here', async () => {
    await press(phone, 'Door check');
    await press(phone, 'Yes');
    const shown = await screen.locator('[data-door-picture]').getAttribute('data-door-picture');
    await press(phone, shown ?? '');
    await press(phone, 'Sound one signal');
    await press(phone, 'Skip');
    await press(phone, 'in 45 min');
    await press(phone, 'Next');
    await phone.getByLabel('How many are here?').fill('12');
    await phone.getByLabel('How many are here?').press('Enter');
    await phone.getByRole('button', { name: 'Knee: 0. One more.' }).click();
    await expect(phone.getByRole('button', { name: 'Knee: 1. One more.' })).toBeVisible();
    await press(phone, 'Done');
    await expect(phone.getByText('Right room, screen alight')).toBeVisible();
  });

  await test.step('the option for a knee comes first, and the count is in the class', async () => {
    await press(phone, /^Short class/);
    await press(phone, 'Start');
    await expect(title(screen)).toHaveText('Welcome');
    await expect(phone.getByRole('button', { name: /^12 here/ })).toBeVisible();
    await settle(phone);
    await press(phone, 'Go');
    await expect(title(screen)).toHaveText('Squat');
    await expect(phone.locator('.lines-of-it .fact').first()).toContainText('Knee:');
    await expect(screen.locator('body')).not.toContainText('Knee');
  });

  await test.step('keep moving, and carry on', async () => {
    await press(phone, 'Keep moving');
    await expect(title(screen)).toHaveText('Keep moving');
    await expect(phone.getByText('easy march')).toBeVisible();
    await settle(phone);
    await press(phone, 'Carry on');
    await expect(title(screen)).toHaveText('Squat');
  });

  await test.step('stop, help, and back to paused', async () => {
    await press(phone, 'Stop');
    await expect(screen.locator('body')).toContainText(/Please (stop|make room)/);
    // Both are there in the first seconds and after them, however slow this machine is.
    await press(phone, 'Everyone out');
    await press(phone, 'Someone needs help');
    await press(phone, 'Help called');
    await expect(phone.locator('[data-stamped="true"]')).toContainText('Help called');
    await settle(phone);
    await press(phone, 'Back');
    await settle(phone);
    await press(phone, 'Back to paused');
    await expect(title(screen)).toHaveText('Paused');
  });

  await test.step('stop without the network: everyone out, with the head count; told when it is back', async () => {
    await phone.context().setOffline(true);
    // The browser may still send for a moment; then the screen has heard, and nothing is said.
    await expect(phone.getByText('No connection')).toBeVisible({ timeout: 60_000 });
    await press(phone, 'Stop');
    await press(phone, 'Everyone out');
    await expect(phone.locator('.stop-heads b')).toHaveText('12');
    await expect(phone.getByText('The screen may not have heard')).toBeVisible();
    await phone.context().setOffline(false);
    await expect(screen.locator('body')).toContainText('Everyone out');
    await settle(phone);
    await press(phone, 'Back');
    await settle(phone);
    await press(phone, 'Back to paused');
    await expect(title(screen)).toHaveText('Paused');
  });

  await test.step('hand over: a code, and the old phone is told', async () => {
    await press(phone, 'More');
    await press(phone, 'Hand over');
    const code = (await phone.locator('.hand-code').innerText()).replace(/\D/g, '');
    const other = await (await browser.newContext({ viewport: { width: 390, height: 844 } })).newPage();
    await other.goto(`${hall.url}/phone?code=${code}`);
    await expect(other.getByRole('button', { name: 'Carry on', exact: true })).toBeVisible();
    await expect(phone.getByText('Handed over')).toBeVisible();
  });
  await hall.close();
});
