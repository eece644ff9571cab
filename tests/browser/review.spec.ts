/** Owns the desk's review in a real browser: many classes, a replay, printing, and the one question from the screen to a participant's phone. */
import type { Page } from '@playwright/test';
import { classBodySchema, classesSchema } from '../../shared/wire/http.ts';
import { replay } from '../../shared/session/evolve.ts';
import { after } from '../../shared/time/units.ts';
import { view } from '../../shared/view/view.ts';
import { words } from '../../shared/view/words.ts';
import { makeYears } from '../review/years.ts';
import { device, live, pair } from '../server/serve.ts';
import { insideAt } from '../inside.ts';
import { press } from './hands.ts';
import { type Studio, shortPlan, studio } from './studio.ts';
import { expect, test } from './test.ts';

let s: Studio;
test.beforeAll(async () => {
  s = await studio([shortPlan]);
  makeYears({ data: s.data, classes: 40, events: 30, seed: 3, until: '2026-11-20', rooms: ['garden', 'street'], different: 10 });
  await s.start();
});
test.beforeEach(({ context }) => context.addCookies(insideAt(s.url)));
test.afterAll(() => s.close());

const sideways = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);

test('V300 the review answers in sentences, with numbers under each picture, for what is chosen', async ({ page }) => {
  page.on('pageerror', (error) => { throw error; });
  await page.goto(`${s.url}/desk?review&from=2026-01-01`);
  await expect(page.locator('.finding-says').first()).toContainText('40 classes in');
  await page.getByRole('combobox', { name: 'Room' }).selectOption('street');
  await expect(page.locator('.finding-says').first()).toContainText('20 classes in');
  expect(page.url()).toContain('room=street');
  for (const question of ['How much was held?', 'How many people came?', 'Where do we stop for form?', 'How long do shows take?', 'Does a week of it come to what is recommended?']) {
    const finding = page.locator('.finding', { hasText: question });
    await expect(finding.locator('svg[role=img]')).toBeVisible();
    await finding.getByText('In numbers').click();
    await expect(finding.locator('table')).toBeVisible();
  }
  const came = page.locator('.finding', { hasText: 'How many people came?' });
  await expect(came.locator('.finding-says')).toContainText(/^\d+ people a class on average, counted in all 20 classes\./);
  await expect(came.getByRole('columnheader', { name: 'People in all' })).toBeVisible();
  await page.getByLabel('Classes with the move').selectOption({ label: 'Squat' });
  await expect(page.locator('.finding-says').first()).toContainText(/^\d+ classes with squat in/);
  expect(page.url()).toContain('movement=squat');
  await expect(page.locator('.finding', { hasText: 'Where do we stop' }).locator('.finding-says')).toContainText('At squat');
  await page.getByLabel('Classes with the move').selectOption('');
  await page.locator('.finding', { hasText: 'Where do we stop' }).getByText('how it is worked out').click();
  await expect(page.getByText('Garwood F. Biometrika 1936')).toBeVisible();
  await page.setViewportSize({ width: 390, height: 844 });
  expect(await sideways(page)).toBeLessThanOrEqual(0);
});

test('W304 the list of classes held calls rooms as the studio does', async ({ page }) => {
  await page.goto(`${s.url}/desk`);
  const room = (hasText: string) => page.locator('.held .what', { hasText }).first();
  await expect(room('Garden room')).toBeVisible();
  await expect(room('street')).toBeVisible();
});

test('V305 dragging along the floor, and arrow keys, show what the screen showed', async ({ page }) => {
  const list = classesSchema.parse(await (await page.request.get(`${s.url}/api/classes?limit=40`)).json());
  const id = list.classes.find((c) => c.plan === 'forty-twenty')?.id ?? '';
  const { events } = classBodySchema.parse(await (await page.request.get(`${s.url}/api/classes/${id}`)).json());
  await page.goto(`${s.url}/desk?class=${id}`);
  const [first] = events;
  if (!first) throw new Error('an empty log');
  const floor = page.getByRole('slider', { name: 'Instant of the class' });
  await floor.scrollIntoViewIfNeeded();
  const box = await floor.boundingBox();
  if (!box) throw new Error('no floor');
  const wall = page.locator('.replay-wall');
  const shown = async () => ({
    title: (await wall.locator('.title').textContent()) ?? '', seconds: await wall.locator('.seconds').textContent({ timeout: 300 }).catch(() => null),
  });
  const then = async () => {
    const at = after(first.at, Number(await floor.getAttribute('aria-valuenow')) * 1_000);
    const session = replay(events.filter((e) => e.at <= at));
    if (!session) throw new Error('no class');
    const v = view(session, at);
    return { title: words(session, v).title, seconds: v.seconds === null ? null : v.seconds < 100 ? String(v.seconds) : `${Math.floor(v.seconds / 60)}:${String(v.seconds % 60).padStart(2, '0')}` };
  };
  for (const part of [0.08, 0.35, 0.62]) {
    await page.mouse.move(box.x + 4, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width * part, box.y + box.height / 2, { steps: 4 });
    await page.mouse.up();
    // To the whole second that the slider says.
    await floor.press('ArrowRight');
    await floor.press('ArrowLeft');
    const [is, was] = [await shown(), await then()];
    expect(is.title).toBe(was.title);
    if (was.seconds !== null && /^\d+$/.test(was.seconds)) expect(Math.abs(Number(is.seconds) - Number(was.seconds))).toBeLessThanOrEqual(1);
  }
  const before = Number(await floor.getAttribute('aria-valuenow'));
  await floor.press('Shift+ArrowRight');
  expect(Number(await floor.getAttribute('aria-valuenow'))).toBe(before + 10);
  await floor.press('Home');
  expect((await shown()).title).toBe('Welcome');
  const pdf = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
  expect(pdf.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(1);
});

test('R300 V464 the screen asks at the end, a phone answers once, and keeps nothing', async ({ browser }) => {
  const wall = await browser.newContext({ viewport: { width: 1920, height: 1080 } });
  const screen = await wall.newPage();
  await screen.goto(`${s.url}/screen`);
  const other = device(s.url, 'screen');
  const phone = device(s.url, 'phone', await pair(s.url, other));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'short', freeAt: null });
  await phone.until((r) => r.session !== null, 'the class');
  const id = phone.room().session?.id ?? '';
  await expect(screen.locator('.class .title')).toBeVisible();
  await expect(screen.locator('.ask-effort')).toHaveCount(0);
  await phone.room().send({ type: 'end' });
  await expect(screen.locator('.ask-effort')).toContainText('How hard was that?');

  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true });
  const page = await context.newPage();
  await page.goto(`${s.url}/answer/${id}`);
  await expect(page.getByRole('heading', { name: 'How hard was that?' })).toBeVisible();
  await page.locator('.ratings label').nth(6).click();
  await press(page, 'Send 6');
  await expect(page.getByRole('heading', { name: 'Thank you.' })).toBeVisible();
  expect(await context.cookies()).toEqual([]);
  expect(await page.evaluate(() => localStorage.length + sessionStorage.length)).toBe(0);
  await page.reload();
  await page.locator('.ratings label').nth(2).click();
  await press(page, 'Send 2');
  await expect(page.getByRole('alert')).toContainText('answered for this class already');
  // Another's phone is set to German as Austria writes it, and is handed to somebody who reads Arabic.
  const german = await browser.newContext({ viewport: { width: 390, height: 844 }, locale: 'de-AT' });
  const theirs = await german.newPage();
  await theirs.goto(`${s.url}/answer/${id}`);
  await expect(theirs.getByRole('heading', { name: 'Wie anstrengend war das?' })).toBeVisible();
  await expect(theirs.locator('html')).toHaveAttribute('lang', 'de-AT');
  await press(theirs, 'العربية');
  await expect(theirs.getByRole('heading', { name: 'ما مدى صعوبة ذلك؟' })).toBeVisible();
  await expect(theirs.locator('html')).toHaveAttribute('dir', 'rtl');
  await press(theirs, 'Deutsch');
  await theirs.locator('.ratings label').nth(7).click();
  await press(theirs, '7 senden');
  await expect(theirs.getByRole('alert')).toContainText('schon geantwortet');
  other.close();
  phone.close();
  await Promise.all([context.close(), german.close(), wall.close()]);
});
