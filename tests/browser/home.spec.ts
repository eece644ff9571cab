/**
 * Plans at home as somebody takes them: one file from the desk, opened without a network, written in,
 * rehearsed, saved, read on a phone, and brought back to a desk where the same plan was changed meanwhile.
 * Pictures of every step lie in .cache/pictures/home.
 */
import type { Browser, BrowserContext, Download, Page } from '@playwright/test';
import { statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { PlanInput } from '../../shared/plan/plan.ts';
import { insideCookie } from '../inside.ts';
import { title } from './hands.ts';
import { type Studio, studio } from './studio.ts';
import { expect, test } from './test.ts';

const pictures = new URL('../../.cache/pictures/home/', import.meta.url).pathname;
const shot = (page: Page, name: string) => page.screenshot({ path: `${pictures}${name}.png` });
const evil = '</script><script>window.hacked = true</script><!-- “quoted” & <b>bold</b>';
const plan = (id: string, name: string, note?: string): PlanInput => ({
  format: 1, id, name, slot: 1_800, ...(note === undefined ? {} : { note }), sections: [
    { id: 'welcome', kind: 'welcome', talk: 30 },
    { id: 'main', kind: 'main', rounds: 2, work: 40, rest: 20, items: [{ movement: 'squat' }, { movement: 'reverse-lunge' }, { movement: 'plank' }] },
  ],
});

/** A browser far from the studio: no network at all, and whatever the page asks for is written down. */
async function sofa(browser: Browser, viewport: { width: number; height: number }, more: { colorScheme?: 'light' | 'dark' } = {}): Promise<{ context: BrowserContext; page: Page; asked: string[] }> {
  const context = await browser.newContext({ viewport, offline: true, acceptDownloads: true, ...more });
  const page = await context.newPage();
  const asked: string[] = [];
  page.on('pageerror', (error) => { throw error; });
  page.on('request', (r) => { asked.push(r.url()); });
  page.on('websocket', (w) => { asked.push(w.url()); });
  return { context, page, asked };
}
const keep = async (hall: Studio, got: Download): Promise<string> => {
  const path = join(hall.data, got.suggestedFilename());
  await got.saveAs(path);
  return path;
};
const api = async (hall: Studio, path: string, method = 'GET', body?: object): Promise<Record<string, unknown>> => {
  const answer = await fetch(`${hall.url}${path}`, { method, headers: { cookie: insideCookie, origin: hall.url, 'content-type': 'application/json' }, ...(body ? { body: JSON.stringify(body) } : {}) });
  return answer.json() as Promise<Record<string, unknown>>;
};
const tooWide = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
const saved = (page: Page) => expect(page.locator('.save-words')).toHaveText('Saved');

test('P320 P322 P324 P343 taken home, written and rehearsed without a network, saved, and brought together with what changed meanwhile', async ({ browser }) => {
  const hall = await studio([plan('tuesday', 'Tuesday', evil), plan('binned', 'Soon in the bin'), plan('alone', 'Left alone')]);
  await hall.start();
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, acceptDownloads: true });
  const [name = '', value = ''] = insideCookie.split('=');
  await context.addCookies([{ name, value, url: hall.url }]);
  const desk = await context.newPage();
  desk.on('pageerror', (error) => { throw error; });
  await desk.goto(`${hall.url}/desk/plans/tuesday`);
  await desk.getByRole('link', { name: 'Take home' }).click();
  await expect(desk.getByRole('checkbox', { name: /Tuesday/ })).toBeChecked();
  await expect(desk.getByRole('checkbox', { name: /Left alone/ })).not.toBeChecked();
  for (const other of [/Soon in the bin/, /Left alone/]) await desk.getByRole('checkbox', { name: other }).check();
  await expect(desk.getByText(/one file, \d\.\d MB/)).toBeVisible();
  await shot(desk, '01-take-home');
  const taken = await Promise.all([desk.waitForEvent('download'), desk.getByRole('link', { name: 'Take 3 plans home' }).click()]).then(([got]) => keep(hall, got));
  process.stdout.write(`taken home: ${Math.round(statSync(taken).size / 1_000)} kB\n`);

  const home = await sofa(browser, { width: 1440, height: 900 });
  const { page } = home;
  const at = pathToFileURL(taken).href;
  await page.goto(at);
  await expect(page.getByText('Quince Yard Studio, at home.')).toBeVisible();
  await expect(page.locator('.plan-list').first()).toContainText('Left alone');
  await shot(page, '02-at-home');
  await page.locator('.plan-list a').filter({ hasText: 'Tuesday' }).first().click();
  await expect(page.getByLabel('Note for whoever teaches')).toHaveValue(evil);
  expect(await page.evaluate(() => 'hacked' in window)).toBe(false);
  await page.getByLabel('Name of the plan').fill('Tuesday on the sofa');
  const main = page.locator('.section-part[data-kind="main"]');
  await main.getByLabel('Rounds').fill('3');
  await main.getByRole('button', { name: 'Add a move' }).click();
  const picker = page.getByRole('dialog', { name: 'Moves for Main' });
  await picker.getByRole('searchbox').fill('push-up');
  await shot(page, '03-choose');
  await picker.locator('.card button').first().click();
  await picker.getByRole('button', { name: /^Done/ }).click();
  await saved(page);
  await shot(page, '04-written');
  await page.getByRole('link', { name: 'Rehearse' }).click();
  await expect(title(page)).toBeVisible();
  await expect(page.locator('.class')).toHaveAttribute('data-phase', 'work');
  await shot(page, '05-rehearsal');
  await page.getByRole('button', { name: 'Leave' }).click();
  await expect(page.getByRole('heading', { name: 'Tuesday on the sofa' })).toBeVisible();
  await page.goto(`${at}#/desk/plans/binned`);
  await page.getByLabel('Slot').fill('40');
  await saved(page);
  await page.goto(`${at}#/desk/plans`);
  await page.getByLabel('A new class').fill('Begun on the sofa');
  await page.getByRole('button', { name: 'Plan it' }).click();
  await expect(page.getByLabel('Name of the plan')).toHaveValue('Begun on the sofa');
  // Closed and opened again, nothing of it is lost.
  await page.goto('about:blank');
  await page.goto(at);
  await expect(page.locator('.plan-list').first()).toContainText('Begun on the sofa');
  await expect(page.locator('.file-line')).toContainText('3 plans are not in a file yet');
  const written = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save as file' }).click()]).then(([got]) => keep(hall, got));
  await expect(page.locator('.file-line')).toContainText('All of it is in the saved file.');
  expect(home.asked.filter((url) => !url.startsWith(at) && !url.startsWith('data:') && !url.startsWith('blob:') && url !== 'about:blank')).toEqual([]);
  await home.context.close();

  // Another device: a cover teacher's phone, at night.
  const phone = await sofa(browser, { width: 390, height: 844 }, { colorScheme: 'dark' });
  await phone.page.goto(pathToFileURL(written).href);
  await shot(phone.page, '06-phone');
  await phone.page.locator('.plan-list li').filter({ hasText: 'Tuesday on the sofa' }).getByRole('link', { name: 'Read' }).click();
  await expect(phone.page.locator('.read-move')).toHaveCount(4);
  await expect(phone.page.locator('.read-move').first()).toContainText('Squat');
  expect(await tooWide(phone.page)).toBe(0);
  await shot(phone.page, '07-phone-read');
  await phone.page.locator('.read-move').nth(1).scrollIntoViewIfNeeded();
  await shot(phone.page, '08-phone-moves');
  await phone.page.getByRole('link', { name: 'Rehearse' }).click();
  await expect(phone.page.locator('.class')).toHaveAttribute('data-phase', 'work');
  await shot(phone.page, '09-phone-rehearsal');
  expect(phone.asked.filter((url) => !/^(file|data|blob):/.test(url))).toEqual([]);
  await phone.context.close();

  // Meanwhile, in the studio.
  const here = await api(hall, '/api/plans/tuesday/kept') as { revision: string; plan: Record<string, unknown> };
  await api(hall, '/api/plans/tuesday', 'PUT', { base: here.revision, plan: { ...here.plan, name: 'Tuesday at the desk', slot: 2_400 } });
  await api(hall, '/api/plans/binned', 'DELETE');

  await desk.goto(`${hall.url}/desk/home`);
  const choose = desk.getByLabel('The file from home');
  await expect(choose).toBeAttached();
  const hostile = join(hall.data, 'hostile.html');
  writeFileSync(hostile, '<!doctype html><script>window.hacked = true</script><script type="application/json" id="hallclock-at-home">{"kind":"hallclock-at-home","format":1,"plans":[{"now":{"__proto__":{"x":1}}}]}</script>');
  await choose.setInputFiles(hostile);
  await expect(desk.getByRole('alert')).toContainText('“hostile.html” was not brought back.');
  await choose.setInputFiles(written);
  const row = (words: string) => desk.locator('.brought-row').filter({ hasText: words });
  await expect(row('Tuesday on the sofa')).toContainText('One thing is otherwise at both');
  await expect(row('Tuesday on the sofa').locator('.conflict')).toContainText('The name, before: Tuesday');
  await expect(row('Begun on the sofa')).toContainText('Begun at home.');
  await expect(row('Soon in the bin')).toContainText('put into the bin here meanwhile');
  await expect(desk.getByText('Left alone, as it stands here')).toBeVisible();
  await expect(desk.getByRole('button', { name: 'Bring back 2 plans' })).toBeDisabled();
  await desk.locator('.bring-back').scrollIntoViewIfNeeded();
  await shot(desk, '10-bring-back');
  await row('Tuesday on the sofa').getByRole('radio', { name: 'Here' }).check();
  await row('Soon in the bin').getByRole('checkbox').check();
  await desk.evaluate(() => { document.documentElement.dataset.theme = 'dim'; });
  await desk.setViewportSize({ width: 390, height: 844 });
  await row('Tuesday on the sofa').scrollIntoViewIfNeeded();
  await shot(desk, '11-bring-back-phone');
  expect(await tooWide(desk)).toBe(0);
  await desk.setViewportSize({ width: 1440, height: 900 });
  await desk.getByRole('button', { name: 'Bring back 3 plans' }).click();
  await expect(desk.locator('.brought-row[data-done="true"]')).toHaveCount(3);
  await shot(desk, '12-brought');
  expect(await desk.evaluate(() => 'hacked' in window)).toBe(false);

  const merged = await api(hall, '/api/plans/tuesday') as unknown as PlanInput;
  expect([merged.name, merged.slot, merged.note, merged.sections[1]?.rounds, merged.sections[1]?.items?.length]).toEqual(['Tuesday at the desk', 2_400, evil, 3, 4]);
  // The name that was not taken is among the former versions, and so is what stood here.
  const { versions } = await api(hall, '/api/plans/tuesday/versions') as { versions: { name: string }[] };
  expect(versions.map((v) => v.name)).toEqual(expect.arrayContaining(['Tuesday at the desk', 'Tuesday on the sofa', 'Tuesday']));
  expect((await api(hall, '/api/plans/binned') as { slot: number }).slot).toBe(2_400);
  expect((await api(hall, '/api/plans/begun-on-the-sofa') as { name: string }).name).toBe('Begun on the sofa');

  // The same file goes on at home and comes back once more: what was brought is not asked again, and nothing becomes a second.
  const again = await sofa(browser, { width: 1440, height: 900 });
  await again.page.goto(pathToFileURL(written).href);
  await again.page.locator('.plan-list a').filter({ hasText: 'Begun on the sofa' }).first().click();
  await again.page.getByLabel('Slot').fill('50');
  await saved(again.page);
  const twice = await Promise.all([again.page.waitForEvent('download'), again.page.getByRole('button', { name: 'Save as file' }).click()]).then(([got]) => keep(hall, got));
  await again.context.close();
  await desk.goto(`${hall.url}/desk/home`);
  await choose.setInputFiles(twice);
  await expect(row('Begun on the sofa')).toContainText('Changed at home only.');
  await expect(row('Tuesday on the sofa')).toHaveCount(0);
  await desk.getByRole('button', { name: 'Bring back one plan' }).click();
  await expect(desk.locator('.brought-row[data-done="true"]')).toHaveCount(1);
  const names = (await api(hall, '/api/plans') as { plans: { id: string; name: string }[] }).plans.map((p) => p.name);
  expect([names.filter((n) => n === 'Begun on the sofa').length, (await api(hall, '/api/plans/begun-on-the-sofa') as { slot: number }).slot]).toEqual([1, 3_000]);
  await context.close();
  await hall.close();
});
