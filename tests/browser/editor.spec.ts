/** Holds the plan's editor in a real browser: moves that go from one section to another, the series, and the way from a sentence to its rule. */
import type { Locator, Page } from '@playwright/test';
import { insideAt } from '../inside.ts';
import { type Studio, studio } from './studio.ts';
import { expect, test } from './test.ts';

let s: Studio;
test.beforeAll(async () => {
  s = await studio([{
    format: 1, id: 'two-parts', name: 'Two parts', sections: [
      { id: 'legs', kind: 'main', name: 'Legs', work: 40, rest: 20, items: [{ movement: 'squat', work: 50 }, { movement: 'reverse-lunge' }, { movement: 'calf-raise' }] },
      { id: 'arms', kind: 'main', name: 'Arms', work: 30, rest: 15, items: [{ movement: 'push-up' }, { movement: 'plank' }] },
    ],
  }]);
  await s.start();
});
test.beforeEach(({ context }) => context.addCookies(insideAt(s.url)));
test.afterAll(() => s.close());

const kept = async (page: Page) => (await (await page.request.get(`${s.url}/api/plans/two-parts`)).json()) as { series?: object; sections: { items: { movement: string; work?: number }[] }[] };
const open = async (page: Page): Promise<{ legs: Locator; arms: Locator }> => {
  page.on('pageerror', (error) => { throw error; });
  await page.setViewportSize({ width: 1280, height: 1400 });
  await page.goto(`${s.url}/desk/plans/two-parts`);
  const [legs, arms] = [page.locator('.section-part').nth(0), page.locator('.section-part').nth(1)];
  await expect(arms.locator('.item-row')).not.toHaveCount(0);
  return { legs, arms };
};
const names = (part: Locator) => () => part.locator('.item-name b').allInnerTexts();

test('P338 a move goes into another section by hand and by keys, with what it says of itself, and is kept there', async ({ page }) => {
  const { legs, arms } = await open(page);
  const middle = async (of: Locator) => { const box = await of.boundingBox(); if (!box) throw new Error('not there'); return { x: box.x + box.width / 2, y: box.y + box.height / 2 }; };
  const [from, to] = [await middle(legs.getByRole('button', { name: 'Move Squat' })), await middle(arms.getByRole('button', { name: 'Move Plank' }))];
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x, from.y + 30, { steps: 4 });
  await page.mouse.move(to.x, to.y, { steps: 12 });
  await expect(arms.locator('.item-row[data-into]')).toHaveCount(1);
  await page.mouse.up();
  await expect.poll(names(arms)).toEqual(['Push-up', 'Squat', 'Plank']);
  await expect.poll(names(legs)).toEqual(['Reverse lunge', 'Calf raise']);
  // By keys behind the last of the other section: over its three places to its end.
  const said = page.locator('[id^="DndLiveRegion"]');
  await legs.getByRole('button', { name: 'Move Calf raise' }).focus();
  await page.keyboard.press('Space');
  await expect(said.filter({ hasText: 'Calf raise is over place 2 of 2 in Legs' })).toBeAttached();
  for (const place of ['the end of Legs', 'place 1 of 3 in Arms', 'place 2 of 3 in Arms', 'place 3 of 3 in Arms', 'the end of Arms']) {
    await page.keyboard.press('ArrowDown');
    await expect(said.filter({ hasText: `Calf raise is over ${place}` })).toBeAttached();
  }
  await page.keyboard.press('Space');
  await expect.poll(names(arms)).toEqual(['Push-up', 'Squat', 'Plank', 'Calf raise']);
  await expect.poll(async () => (await kept(page)).sections.map((x) => x.items.map((i) => [i.movement, i.work ?? null]))).toEqual([
    [['reverse-lunge', null]], [['push-up', null], ['squat', 50], ['plank', null], ['calf-raise', null]],
  ]);
  await page.keyboard.press('Control+z');
  await expect.poll(names(legs)).toEqual(['Reverse lunge', 'Calf raise']);
});

test('P339 the series has a name and a number, both can be changed, and a name that is emptied takes the plan out of it', async ({ page }) => {
  await open(page);
  await page.getByLabel('Series').fill('سلسلة الربيع');
  await page.getByLabel('Number in it').fill('7');
  await expect.poll(async () => (await kept(page)).series).toEqual({ name: 'سلسلة الربيع', number: 7 });
  await page.getByLabel('Series').fill('');
  await page.getByLabel('Series').fill('Spring legs');
  await expect.poll(async () => (await kept(page)).series).toEqual({ name: 'Spring legs', number: 7 });
  await page.getByLabel('Series').fill('');
  await expect.poll(async () => (await kept(page)).series ?? null).toBeNull();
});

test('P334 from a sentence of the coach to its rule, marked among all', async ({ page }) => {
  await open(page);
  const said = page.locator('.said').first();
  await said.getByRole('button', { name: 'Why' }).click();
  const link = said.getByRole('link', { name: /^Rule / });
  const id = (await link.innerText()).replace('Rule ', '');
  const [rules] = await Promise.all([page.context().waitForEvent('page'), link.click()]);
  await expect(rules.getByRole('heading', { name: 'What the coach looks for' })).toBeVisible();
  await expect(rules.locator('.rule[aria-current]')).toHaveAttribute('id', id);
  await expect(rules.locator('.rule[aria-current]')).toBeInViewport();
});
