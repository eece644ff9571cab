/**
 * Holds every page and state to axe (the rules for WCAG 2.0 to 2.2, A and AA), and the phone's
 * targets to 44 px. The tones of the screen are held to more, for every eye, in look.spec.ts.
 */
import axe from 'axe-core';
import { insideAt } from '../inside.ts';
import { flaws } from '../pictures/flaws.ts';
import { answer } from '../pictures/remote-answers.ts';
import { serveSamples, serveScreenPage } from '../pictures/served.ts';
import { stateNames } from '../pictures/states.ts';
import { found } from './found.ts';
import { shortPlan, studio } from './studio.ts';
import { expect, test } from './test.ts';

test('V403 axe finds nothing on the screen, in any state', async ({ page }) => {
  const served = await serveScreenPage();
  page.on('pageerror', (error) => { throw error; });
  await page.setViewportSize({ width: 1_280, height: 720 });
  await page.goto(`${served.url}?state=doors`);
  await page.locator('html[data-ready]').waitFor({ state: 'attached', timeout: 60_000 });
  await page.evaluate(axe.source);
  for (const query of [...stateNames.filter((n) => !n.includes('lost')).map((n) => `?state=${n}`), '?state=doors&locked', '?state=doors&setup', '?state=right&lang=ar']) {
    await page.evaluate((q) => globalThis.show(q), query);
    expect.soft(await found(page, false), query).toEqual([]);
  }
  await served.close();
});

const moments = ['talk', 'follow-me', 'watch', 'set-up', 'waits-in-set-up', 'count-in', 'work', 'right', 'left', 'other-side', 'rest', 'late', 'paused', 'match', 'long-side', 'reps', 'stations',
  'move-round', 'over', 'keep-moving', 'stood-long', 'stopped', 'help', 'out', 'pair', 'choose'];
test('V404 axe finds nothing on the phone, in any state; every target has 44 px; the desk too', async ({ page }) => {
  const served = await serveSamples();
  page.on('pageerror', (error) => { throw error; });
  await answer(page);
  for (const state of [...moments, 'desk-home', 'desk-class']) {
    const desk = state.startsWith('desk');
    await page.setViewportSize(desk ? { width: 1_280, height: 800 } : { width: 390, height: 844 });
    await page.goto(`${served.url}?state=${state}`);
    await page.locator('html[data-ready]').waitFor({ state: 'attached', timeout: 60_000 });
    await page.evaluate(axe.source);
    expect.soft(await found(page, true), state).toEqual([]);
    if (!desk) expect.soft((await page.evaluate(flaws)).filter((f) => f.startsWith('target')), state).toEqual([]);
  }
  await served.close();
});

test('V405 axe finds nothing on the pages of the desk, the movements and the question after class', async ({ page, context }) => {
  const hall = await studio([shortPlan]);
  await hall.start();
  const look = async (path: string) => {
    await page.goto(`${hall.url}${path}`);
    await page.locator('h1, h2, button').first().waitFor();
    await page.waitForLoadState('networkidle');
    await page.evaluate(axe.source);
    expect.soft(await found(page, true), path).toEqual([]);
  };
  await look('/desk');
  await context.addCookies(insideAt(hall.url));
  for (const path of ['/desk', '/desk?review', '/desk/plans', '/desk/plans/short', '/movements', '/movements/new', '/answer/none', '/phone']) await look(path);
  await hall.close();
});
