/** Two who write one plan at the desk: told so, brought together, and asked field by field. */
import type { Page } from '@playwright/test';
import { insideAt } from '../inside.ts';
import { studio } from './studio.ts';
import { expect, test } from './test.ts';

const pictures = new URL('../../.cache/pictures/plan/', import.meta.url).pathname;

test('K201 K203 two write one plan: told so, brought together, and asked where both changed the same', async ({ browser }) => {
  const hall = await studio([]);
  await hall.start();
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  await context.addCookies(insideAt(hall.url));
  const [desk, other] = [await context.newPage(), await context.newPage()];
  for (const page of [desk, other]) {
    page.on('pageerror', (error) => { throw error; });
    await page.goto(`${hall.url}/desk/plans/first-steps`);
  }
  const name = (page: Page) => page.getByLabel('Name of the plan');
  const note = (page: Page) => page.getByLabel('Note for whoever teaches');
  const saved = (page: Page) => expect(page.locator('.save-words')).toHaveText('Saved');
  const kept = async () => (await (await desk.request.get(`${hall.url}/api/plans/first-steps`)).json()) as { name: string; slot: number; note: string };
  await expect(other.getByText('Somebody else writes this plan now.')).toBeVisible();
  await name(desk).fill('Ours');
  await expect.poll(async () => (await kept()).name).toBe('Ours');
  await note(other).fill('Bring water');
  await expect.poll(async () => (await kept()).note).toBe('Bring water');
  await expect(name(other)).toHaveValue('Ours');
  await expect(note(desk)).toHaveValue('Bring water');

  // Does not hear of it before it has written the same itself, however slow the machine is.
  await other.route('**/editing', (route) => route.abort());
  await name(desk).fill('This one');
  await expect.poll(async () => (await kept()).name).toBe('This one');
  await name(other).fill('That one');
  await expect(other.locator('.asked')).toContainText('The name, before: Ours');
  await other.getByLabel('Slot').fill('40');
  await expect(other.getByRole('button', { name: 'Keep it so' })).toBeDisabled();
  await other.screenshot({ path: `${pictures}11-asked.png` });
  await other.getByRole('radio', { name: 'Yours' }).check();
  await other.getByRole('button', { name: 'Keep it so' }).click();
  await expect.poll(kept).toMatchObject({ name: 'That one', slot: 2_400, note: 'Bring water' });
  await saved(other);
  await context.close();
  await hall.close();
});
