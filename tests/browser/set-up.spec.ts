/** Holds setting up a screen in a real browser: with keys alone, what it says at once, what it draws then, and that it is kept. */
import { type Studio, shortPlan, studio } from './studio.ts';
import { expect, test } from './test.ts';

let hall: Studio;
test.beforeAll(async () => {
  hall = await studio([shortPlan]);
  await hall.start();
});
test.afterAll(() => hall.close());

test('V409 a screen is set up with its keys; it says at once what can be read from where, draws accordingly, and keeps it', async ({ page }) => {
  page.on('pageerror', (error) => { throw error; });
  await page.setViewportSize({ width: 1_280, height: 720 });
  await page.goto(`${hall.url}/screen`);
  await page.getByRole('button', { name: /^Set up this screen/ }).waitFor();
  await page.keyboard.press('u');
  const page1 = page.getByRole('region', { name: 'Set up this screen' });
  await expect(page1).toContainText('Everything of a class can be read from 6.0');
  // From the diagonal down to the farthest mat, and out to nine metres.
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown');
  for (let k = 0; k < 6; k += 1) await page.keyboard.press('ArrowRight');
  await expect(page1.getByLabel('Farthest mat', { exact: true })).toHaveText(/^9\.0/);
  await expect(page1).toContainText('words are larger here, and the least needed ones give way');
  for (let k = 0; k < 2; k += 1) await page.getByRole('button', { name: 'Farthest mat: more' }).click();
  await expect(page1).toContainText('too far for this screen');
  await page.getByRole('button', { name: 'Farthest mat: less' }).click();
  await page.getByRole('button', { name: 'Light: more' }).click();
  await page.getByRole('button', { name: 'Light: more' }).click();
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'dim');
  await page.keyboard.press('Escape');
  await expect(page1).toBeHidden();
  await page.reload();
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'dim');
  // The class is drawn for that hall; the doors, which are read from near, are not.
  await expect(page.locator('.wall')).not.toHaveAttribute('data-far', 'true');
  await page.goto(`${hall.url}/screen?rehearse=short`);
  await expect(page.locator('.wall .title')).toHaveText(/./);
  await expect(page.locator('.wall')).toHaveAttribute('data-far', 'true');
});
