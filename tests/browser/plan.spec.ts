/**
 * Plans as somebody does who has never seen it: a class of 30 minutes with three rounds, fitted to
 * the slot, mended, started from the phone. Pictures of every step lie in .cache/pictures/plan.
 */
import type { Browser, Page } from '@playwright/test';
import { codeOn, press, title } from './hands.ts';
import { type Studio, studio } from './studio.ts';
import { expect, test } from './test.ts';

const pictures = new URL('../../.cache/pictures/plan/', import.meta.url).pathname;
const shot = (page: Page, name: string) => page.screenshot({ path: `${pictures}${name}.png` });

interface Rooms { readonly hall: Studio; readonly screen: Page; readonly desk: Page; readonly phone: Page }
/** A screen, a desk and a phone, each a device of its own, the last two paired. */
async function rooms(browser: Browser): Promise<Rooms> {
  const hall = await studio([]);
  await hall.start();
  const made = await Promise.all([{ width: 1920, height: 1080 }, { width: 1440, height: 900 }, { width: 390, height: 844 }].map(async (viewport) => (await browser.newContext({ viewport })).newPage()));
  const [screen, desk, phone] = made as [Page, Page, Page];
  for (const page of made) page.on('pageerror', (error) => { throw error; });
  await screen.goto(`${hall.url}/screen`);
  await phone.goto(`${hall.url}/phone?code=${await codeOn(screen)}`);
  await expect(phone.getByText('Which class?')).toBeVisible();
  return { hall, screen, desk, phone };
}
async function pairHere({ desk, screen }: Pick<Rooms, 'desk' | 'screen'>): Promise<void> {
  const field = desk.getByLabel('To keep plans here, type the six digits');
  await expect(field).toBeVisible();
  await expect(screen.locator('.code')).toBeVisible();
  await screen.waitForTimeout(400);
  await field.fill(await codeOn(screen));
  await expect(field).toHaveCount(0);
}
const tooWide = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);

test('K200 K203 W200 somebody new plans 30 minutes with three rounds, fits it, mends it and starts it from the phone', async ({ browser }) => {
  const r = await rooms(browser);
  const { hall, desk, phone, screen } = r;
  const began = Date.now();
  await desk.goto(`${hall.url}/desk/plans`);
  await desk.getByLabel('A new class').fill('Tuesday at six');
  await shot(desk, '01-plans');
  await desk.getByRole('button', { name: 'Plan it' }).click();
  await expect(desk.getByRole('alert')).toContainText('may look, but not write');
  await pairHere(r);
  await desk.getByRole('button', { name: 'Plan it' }).click();
  await expect(desk.getByLabel('Name of the plan')).toHaveValue('Tuesday at six');
  await shot(desk, '02-new');

  const main = desk.locator('.section-part[data-kind="main"]');
  await main.getByRole('button', { name: 'Add a move' }).click();
  const picker = desk.getByRole('dialog', { name: 'Moves for Main' });
  for (const name of ['push-up', 'reverse lunge', 'plank', 'side step']) {
    await picker.getByRole('searchbox').fill(name);
    if (name === 'push-up') await shot(desk, '03-choose');
    await picker.locator('.card button').first().click();
  }
  await picker.getByRole('button', { name: /^Done, 5 chosen/ }).click();
  await expect(main.locator('.item-row')).toHaveCount(5);
  await expect(main.getByLabel('Rounds')).toHaveValue('3');
  await expect(desk.locator('.save-words')).toHaveText('Saved');
  await shot(desk, '04-over');

  await desk.getByRole('button', { name: 'Fit it to' }).click();
  await expect(desk.locator('.offer')).toContainText('instead of');
  await shot(desk, '05-fit');
  await desk.getByRole('button', { name: 'Keep it so' }).click();
  await expect(desk.locator('.fits')).toHaveAttribute('data-fits', 'true');

  await shot(desk, '06-coach');
  await expect(desk.locator('.said[data-grade="think again"]').first()).toBeVisible();
  for (let k = 0; k < 12; k += 1) {
    const before = await desk.locator('.coach > ul').innerText().catch(() => '');
    const mends = desk.locator('.said[data-grade="think again"], .said[data-grade="cannot run"]');
    if (await mends.count() === 0) break;
    const mend = mends.first().locator('.said-acts .control');
    if (await mend.count() > 0) await mend.click();
    else {
      await mends.first().getByRole('button', { name: 'Waive it' }).click();
      await desk.getByLabel('The reason, kept with the plan').fill('They know it well');
      await desk.locator('.waive button[type=submit]').click();
    }
    await expect.poll(async () => desk.locator('.coach > ul').innerText().catch(() => '')).not.toBe(before);
  }
  await expect(desk.locator('.said[data-grade="think again"], .said[data-grade="cannot run"]')).toHaveCount(0);
  const advice = desk.locator('.said').first();
  await advice.getByRole('button', { name: 'Waive it' }).click();
  await desk.getByLabel('The reason, kept with the plan').fill('I ask at the door');
  await desk.locator('.waive button[type=submit]').click();
  await expect(desk.locator('.waived')).toBeVisible();
  await expect(desk.locator('.fits')).toHaveAttribute('data-fits', 'true');
  await expect(desk.locator('.save-words')).toHaveText('Saved');
  await expect(main.getByLabel('Rounds')).toHaveValue('3');
  await shot(desk, '07-mended');

  await phone.getByRole('button', { name: /Tuesday at six/ }).click();
  await shot(phone, '08-phone');
  await press(phone, 'Start');
  await expect(title(screen)).toHaveText('Welcome');
  const tookMs = Date.now() - began;
  await shot(screen, '09-started');
  expect(tookMs).toBeLessThan(60_000);
  process.stdout.write(`planned, fitted, mended and started in ${Math.round(tookMs / 1_000)} s by a script\n`);
  await hall.close();
});

test('P301 W200 undo, copy, moving by keys, a file out and in, the bin', async ({ browser }) => {
  const r = await rooms(browser);
  const { hall, desk } = r;
  await desk.goto(`${hall.url}/desk/plans/first-steps`);
  await pairHere(r);
  const sections = desk.locator('.section-part');
  const count = await sections.count();
  const main = desk.locator('.section-part[data-kind="main"]').first();
  await main.locator('.section-head').getByRole('button', { name: 'Copy' }).click();
  await expect(sections).toHaveCount(count + 1);
  await desk.keyboard.press('Control+z');
  await expect(sections).toHaveCount(count);
  const names = () => main.locator('.item-name b').allInnerTexts();
  const before = await names();
  await main.locator('.item-row .grip').first().focus();
  // Each step is waited for by what is said of it, as somebody who cannot see it does.
  const said = desk.locator('[id^="DndLiveRegion"]');
  await desk.keyboard.press('Space');
  await expect(said.filter({ hasText: 'is over place 1 of' })).toBeAttached();
  await desk.waitForTimeout(250);
  await desk.keyboard.press('ArrowDown');
  await expect(said.filter({ hasText: 'is over place 2 of' })).toBeAttached();
  await desk.keyboard.press('Space');
  await expect.poll(names).toEqual([before[1], before[0], ...before.slice(2)]);
  await expect(desk.locator('.save-words')).toHaveText('Saved');
  const work = main.getByLabel('Work').first();
  const was = await work.inputValue();
  await work.fill('0');
  await expect(main.getByRole('alert')).toHaveText('From 1 to 3600');
  await work.blur();
  await expect(work).toHaveValue(was);

  const file = await (await desk.request.get(`${hall.url}/api/plans/first-steps/file`)).json() as { name: string; sections: { items: object[] }[] };
  file.name = 'From elsewhere';
  file.sections[1]?.items.push({ movement: 'no-such-move' });
  await desk.goto(`${hall.url}/desk/plans`);
  await expect(desk.locator('.plan-list').first()).toContainText('First steps');
  await desk.getByLabel('A plan as a file').setInputFiles({ name: 'plan.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(file)) });
  await expect(desk.locator('.told')).toContainText('the library has no "no-such-move"');
  await shot(desk, '10-import');
  await desk.getByRole('button', { name: 'Bring it in so' }).click();
  await expect(desk.getByLabel('Name of the plan')).toHaveValue('From elsewhere');
  await desk.goto(`${hall.url}/desk/plans`);
  await desk.getByRole('button', { name: 'Put From elsewhere into the bin' }).click();
  await desk.getByText('In the bin (1)').click();
  await desk.getByRole('button', { name: 'Take out of the bin' }).click();
  await expect(desk.locator('.plan-list').first()).toContainText('From elsewhere');
  await hall.close();
});

test('K207 what is written while the server is away stays, says so, and is kept when it is back', async ({ browser }) => {
  const r = await rooms(browser);
  const { hall, desk } = r;
  await desk.goto(`${hall.url}/desk/plans/first-steps`);
  await pairHere(r);
  await hall.kill();
  await desk.getByLabel('Note for whoever teaches').fill('Windows open');
  await expect(desk.locator('.save-words')).toContainText('Not saved. The studio did not answer.');
  await shot(desk, '16-away');
  await hall.start();
  await expect(desk.locator('.save-words')).toHaveText('Saved', { timeout: 20_000 });
  const kept = await (await desk.request.get(`${hall.url}/api/plans/first-steps`)).json() as { note: string };
  expect(kept.note).toBe('Windows open');
  await hall.close();
});

test('P304 the next session: one change is left, the others are taken, twice without a clash of names', async ({ browser }) => {
  const r = await rooms(browser);
  const { hall, desk } = r;
  await desk.goto(`${hall.url}/desk/plans/forty-twenty`);
  await pairHere(r);
  for (const id of ['forty-twenty-2', 'forty-twenty-2-2']) {
    await desk.goto(`${hall.url}/desk/plans/forty-twenty/next`);
    const changes = desk.locator('.changes-list li:has(input)');
    await expect(changes.first()).toContainText('instead of');
    const offered = await changes.count();
    await changes.first().getByRole('checkbox').uncheck();
    await shot(desk, '17-next');
    await desk.getByRole('button', { name: `Make number 2, with ${offered - 1} change` }).click();
    await expect(desk).toHaveURL(new RegExp(`/desk/plans/${id}$`));
    await expect(desk.getByLabel('Number in it')).toHaveValue('2');
  }
  await hall.close();
});

test('P302 W203 typed as on paper, put into the timetable, and the phone opens on it', async ({ browser }) => {
  const r = await rooms(browser);
  const { hall, desk, phone } = r;
  await desk.goto(`${hall.url}/desk/plans?typed=On+a+card`);
  await desk.getByLabel('The plan as on paper').fill('3 rounds, 40/20: squat, row, plank 30 a side');
  await expect(desk.locator('.understood')).toContainText('Squat');
  await expect(desk.locator('.asks li').first()).toBeVisible();
  await shot(desk, '12-typed');
  await desk.getByRole('button', { name: 'Make the plan' }).click();
  await pairHere(r);
  await desk.getByRole('button', { name: 'Make the plan' }).click();
  await expect(desk.getByLabel('Name of the plan')).toHaveValue('On a card');
  for (const [width, height] of [[390, 844], [1440, 900]] as const) {
    await desk.setViewportSize({ width, height });
    for (const theme of ['dim', 'day']) {
      await desk.evaluate((t) => { document.documentElement.dataset.theme = t; }, theme);
      expect(await tooWide(desk)).toBe(0);
      await shot(desk, `13-${width}-${theme}`);
    }
  }
  await desk.goto(`${hall.url}/desk/timetable`);
  const soon = new Date(Date.now() + 10 * 60_000).toISOString();
  await desk.getByLabel('Plan', { exact: true }).selectOption({ label: 'On a card' });
  await desk.getByLabel('Day').fill(soon.slice(0, 10));
  await desk.getByLabel('At', { exact: true }).fill(soon.slice(11, 16));
  await desk.getByRole('button', { name: 'Put it in' }).click();
  await expect(desk.locator('.days')).toContainText('On a card');
  await shot(desk, '14-timetable');
  await phone.reload();
  await expect(phone.getByRole('heading', { name: /On a card/ })).toBeVisible();
  await shot(phone, '15-due');
  await hall.close();
});
