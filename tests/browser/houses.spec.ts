/** Holds the desk of a chain and of a studio that reports to it, in a browser: the key, the timetable of a house, a plan that both changed, all houses now and their review. */
import type { Page } from '@playwright/test';
import axe from 'axe-core';
import type { Plan } from '../../shared/plan/plan.ts';
import { serverAt } from '../../shared/time/units.ts';
import { postgresStore } from '../../server/store/postgres.ts';
import { testPostgres } from '../chain/postgres.ts';
import { teach } from '../chain/teach.ts';
import { insideAt, insideCookie } from '../inside.ts';
import { found } from './found.ts';
import { shortPlan, type Studio, studio } from './studio.ts';
import { expect, test } from './test.ts';

const engine = await testPostgres();
test.afterAll(() => engine?.close());
test.skip(!engine, 'no PostgreSQL is to be had here');

/** Classes of a house whose own server has reported them: three that are over. */
async function southHeld(database: string): Promise<void> {
  const store = await postgresStore(database, () => {}, 'south', 2);
  for (let k = 0; k < 3; k += 1) {
    const held = await teach(store, `south-${k}`, 'hall', serverAt(Date.now() - (k + 20) * 3_600_000));
    await held.end();
  }
  await store.stop();
}
/** And one that runs now: it is a short one, so it begins when it is looked for. */
async function southNow(database: string): Promise<void> {
  const store = await postgresStore(database, () => {}, 'south', 2);
  await teach(store, 'south-now', 'hall', serverAt(Date.now()));
  await store.stop();
}

async function look(page: Page, address: string): Promise<void> {
  for (const [width, height] of [[1_280, 800], [390, 844]] as const) {
    await page.setViewportSize({ width, height });
    await page.goto(address);
    await page.locator('h1').waitFor();
    await page.waitForLoadState('networkidle');
    await page.evaluate(axe.source);
    expect.soft(await found(page, true), `${address} ${width}`).toEqual([]);
    expect.soft(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth), `${address} ${width}: wider than the page`).toBeLessThanOrEqual(0);
  }
  await page.setViewportSize({ width: 1_280, height: 800 });
}

/** What somebody writes at a desk meanwhile. */
async function change(at: Studio, edit: (plan: Plan) => Plan): Promise<void> {
  const headers = { cookie: insideCookie, 'content-type': 'application/json' };
  const { plan, revision } = await (await fetch(`${at.url}/api/plans/short/kept`)).json() as { plan: Plan; revision: string };
  const answer = await fetch(`${at.url}/api/plans/short`, { method: 'PUT', headers, body: JSON.stringify({ base: revision, plan: edit(plan) }) });
  expect(answer.status).toBe(200);
}

test('W305 W306 a house gets its key at the chain\'s desk, takes plan and timetable from it, and settles at its own desk what both changed', async ({ page, context }) => {
  const database = await engine?.database() ?? '';
  await southHeld(database);
  const chain = await studio([shortPlan], undefined, undefined, { DATABASE_URL: database, HALLCLOCK_HOUSES: 'north=North Yard,south=South Yard,west=West Yard', HALLCLOCK_STUDIO: 'Reed Lane' });
  await chain.start();
  await context.addCookies(insideAt(chain.url));
  await page.goto(`${chain.url}/desk/houses`);
  await page.getByRole('button', { name: 'Make its key: North Yard' }).click();
  const key = /HALLCLOCK_CHAIN_KEY=(\S+)/.exec(await page.locator('pre').innerText())?.[1] ?? '';
  await page.getByRole('button', { name: 'I have it' }).click();
  // Shown once; a new one is asked about first.
  await page.getByRole('button', { name: 'New key: North Yard' }).click();
  await expect(page.getByText('reports nothing until its server is started with the new one')).toBeVisible();
  await page.getByRole('button', { name: 'Leave it' }).click();
  expect(await page.content()).not.toContain(key);

  const north = await studio([], 'garden:Garden room,attic:Attic', undefined, { HALLCLOCK_CHAIN: chain.url, HALLCLOCK_CHAIN_KEY: key, HALLCLOCK_STUDIO: 'North Yard' });
  await north.start();
  await context.addCookies(insideAt(north.url));
  await expect(async () => {
    await page.reload();
    await expect(page.getByText('What is planned here is there since')).toBeVisible({ timeout: 1_000 });
  }).toPass();
  await page.getByRole('link', { name: 'Its timetable' }).first().click();
  await expect(page.getByRole('heading', { name: 'Timetable of North Yard' })).toBeVisible();
  await page.getByRole('combobox', { name: 'Room' }).selectOption('Attic');
  await page.getByRole('button', { name: 'Put it in' }).click();
  await expect(page.locator('.days time').first()).toHaveText('18:30');
  await look(page, page.url());
  await expect(async () => {
    await page.goto(`${north.url}/desk/timetable`);
    await expect(page.locator('.days').getByText('Attic').first()).toBeVisible({ timeout: 1_000 });
  }).toPass();

  // The line is down; both change the plan.
  await chain.kill();
  await change(north, (p) => ({ ...p, name: 'Short class of North Yard', slot: 900 }));
  await chain.start();
  await change(chain, (p) => ({ ...p, name: 'Short class, quieter', note: 'Mats out before.', sections: p.sections.map((s) => (s.id === 'main' ? { ...s, rest: 12 } : s)) }));
  await expect(async () => {
    await page.goto(`${north.url}/desk`);
    await expect(page.getByText('was changed by the chain and here otherwise')).toBeVisible({ timeout: 1_000 });
  }).toPass({ timeout: 90_000 });
  await look(page, `${chain.url}/desk/houses`);
  await expect(page.getByText('stays as it is there until somebody chooses')).toBeVisible();
  await look(page, `${north.url}/desk`);
  await page.getByRole('link', { name: 'Choose' }).click();
  await expect(page.getByRole('radio', { name: 'Here Short class of North Yard' })).toBeVisible();
  await look(page, page.url());
  const keep = page.getByRole('button', { name: 'Keep it so: Short class of North Yard' });
  await expect(keep).toBeDisabled();
  await page.getByRole('radio', { name: 'The chain Short class, quieter' }).check();
  await keep.click();
  await expect(page.getByText('Nothing waits here.')).toBeVisible();
  const { plan } = await (await fetch(`${north.url}/api/plans/short/kept`)).json() as { plan: Plan };
  expect(plan).toMatchObject({ name: 'Short class, quieter', note: 'Mats out before.', slot: 900 });
  expect(plan.sections.find((s) => s.id === 'main')?.rest).toBe(12);

  await southNow(database);
  await page.goto(`${chain.url}/desk/all`);
  await expect(page.getByText('1 class runs in 1 of 3 houses')).toBeVisible();
  await expect(page.getByText('Nothing on in Garden room and Attic.')).toBeVisible();
  await look(page, page.url());
  await look(page, `${chain.url}/desk/all?review`);
  await north.close();
  await chain.close();
});
