/** Drives a whole class as people do: a real server, a screen, a phone, a reload of each, a power cut, the log. */
import { codeOn, line, open, press, sameSecond, settle, title } from './hands.ts';
import { shortPlan, studio } from './studio.ts';
import { expect, test } from './test.ts';

const pictures = new URL('../../.cache/pictures/live/', import.meta.url).pathname;

test('R1 a class from pairing to the log', async ({ browser }) => {
  const hall = await studio([shortPlan]);
  await hall.start();
  const both = await open(browser, hall);
  const { screen, phone } = both;
  let n = 0;
  const look = async (name: string) => {
    n += 1;
    const file = `${pictures}${String(n).padStart(2, '0')}-${name}`;
    await Promise.all([screen.screenshot({ path: `${file}-screen.png` }), phone.screenshot({ path: `${file}-phone.png` })]);
  };

  await test.step('pairing by the address in the QR code', async () => {
    const code = await codeOn(screen);
    await phone.goto(`${hall.url}/phone?code=${code}`);
    await expect(phone.getByText('Which class?')).toBeVisible();
    expect(phone.url()).not.toContain(code);
    await look('doors');
    // The code is used up; the screen has a new one.
    await expect.poll(() => codeOn(screen)).not.toBe(code);
  });

  await test.step('start, and go after the welcome', async () => {
    await press(phone, /^Short class/);
    // What is laid out stands at the doors.
    await expect(screen.locator('.doors .title')).toHaveText('Short class');
    await screen.waitForTimeout(500);
    await look('plan');
    await press(phone, 'Start');
    await expect(title(screen)).toHaveText('Welcome');
    await look('talk');
    await settle(phone);
    await press(phone, 'Go');
    await expect(screen.locator('.count[data-kind="count-in"]')).toBeVisible();
    await look('count-in');
    await expect(title(screen)).toHaveText('Squat');
    await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work');
    await sameSecond(both);
    await look('work');
  });

  await test.step('pause for form, carry on with a count-in', async () => {
    await press(phone, 'Pause');
    await expect(title(screen)).toHaveText('Paused');
    const stands = await screen.locator('.under').innerText();
    await press(phone, 'Form');
    await look('paused');
    await screen.waitForTimeout(1_200);
    expect(await screen.locator('.under').innerText()).toBe(stands);
    await press(phone, 'Carry on');
    await expect(screen.locator('.count[data-kind="count-in"] .seconds')).toHaveText('3');
    await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work');
  });

  await test.step('ten more', async () => {
    const before = Number(await screen.locator('.class .seconds').innerText());
    await press(phone, 'Ten more');
    await expect.poll(async () => Number(await screen.locator('.class .seconds').innerText())).toBeGreaterThan(before + 5);
    await sameSecond(both, 3);
  });

  await test.step('move on; the right leg first, then change sides now', async () => {
    await press(phone, 'Move on');
    await expect(title(screen)).toHaveText('Rest');
    await look('rest');
    await expect(title(screen)).toHaveText('Reverse lunge');
    await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work');
    await expect(line(screen).first()).toHaveText(/right/i);
    await sameSecond(both, 3);
    await look('right');
    await screen.waitForTimeout(3_000);
    await press(phone, 'Change sides');
    await expect(screen.locator('.class')).toHaveAttribute('data-phase', /other-side|count-in/);
    await look('other-side');
    await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work');
    await expect(line(screen).first()).toHaveText(/left/i);
    await look('left');
  });

  await test.step('a reload of each comes back to the truth', async () => {
    await Promise.all([screen.reload(), phone.reload()]);
    await expect(title(screen)).toHaveText(/Reverse lunge|Rest|Glute bridge/);
    await expect(phone.getByRole('button', { name: 'Pause', exact: true })).toBeVisible();
    await press(phone, 'Again');
    await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work');
    await sameSecond(both, 3);
  });

  await test.step('a power cut in the middle: the screen counts on, and the server comes back at the right second', async () => {
    const before = Number(await screen.locator('.class .seconds').innerText());
    await hall.kill();
    await press(phone, 'Ten more');
    await expect(phone.getByRole('alert')).toContainText(/No connection|No answer/);
    await expect.poll(async () => Number(await screen.locator('.class .seconds').innerText())).toBeLessThan(before);
    await hall.start();
    await expect(phone.getByRole('button', { name: 'Pause', exact: true })).toBeEnabled();
    await settle(phone);
    await press(phone, 'Pause');
    await expect(title(screen)).toHaveText('Paused');
    await settle(phone);
    await press(phone, 'Carry on');
    await expect(title(screen)).not.toHaveText('Paused');
  });

  await test.step('a note, a head count, and the end with its question', async () => {
    await press(phone, 'More');
    await phone.getByLabel('Note').fill('Knees over toes');
    await press(phone, 'Keep the note');
    await press(phone, 'One more');
    await press(phone, 'End the class');
    await look('end');
    await press(phone, 'End the class');
    await expect(title(screen)).toHaveText('Well done');
    await expect(phone.getByText('Where the time went')).toBeVisible();
    await look('over');
  });

  await test.step('the log has it', async () => {
    await phone.getByText('Open the log').click();
    await expect(phone.getByText('Short class').first()).toBeVisible();
    await expect(phone.getByText('Knees over toes')).toBeVisible();
    await phone.setViewportSize({ width: 1280, height: 800 });
    await phone.screenshot({ path: `${pictures}log.png`, fullPage: true });
  });
  await hall.close();
});

test('R2 the keyboard of the screen goes, pauses and carries on', async ({ browser }) => {
  const hall = await studio([shortPlan]);
  await hall.start();
  const { screen, phone } = await open(browser, hall);
  await phone.goto(`${hall.url}/phone`);
  await phone.getByLabel('Code on the screen').fill(await codeOn(screen));
  await press(phone, /^Short class/);
  await press(phone, 'Start');
  await expect(title(screen)).toHaveText('Welcome');
  await phone.close();
  await screen.waitForTimeout(800);
  await screen.keyboard.press('Space');
  await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work');
  await screen.waitForTimeout(800);
  await screen.keyboard.press('PageDown');
  await expect(title(screen)).toHaveText('Paused');
  await screen.waitForTimeout(800);
  await screen.keyboard.press('Enter');
  await expect(title(screen)).toHaveText('Squat');
  await hall.close();
});
