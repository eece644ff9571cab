/** Watches every request that the pages make, through a class and all around the desk: each goes to the studio's own server, and the content policy holds. */
import type { BrowserContext, Page } from '@playwright/test';
import { insideAt } from '../inside.ts';
import { codeOn, press, settle, title } from './hands.ts';
import { shortPlan, studio } from './studio.ts';
import { expect, test } from './test.ts';

/** What somebody may write into a name; a page that took it for HTML would ask for /hostile. */
const HOSTILE = '<img src=/hostile onerror=alert(1)>';

interface Seen { readonly asked: Set<string>; readonly elsewhere: string[]; readonly loose: string[]; readonly forbidden: string[] }

/** Everything that a context asks for from now on, sockets and frames included. */
async function watch(context: BrowserContext, own: string, seen: Seen): Promise<void> {
  const look = (url: string) => {
    const { protocol, host, pathname } = new URL(url);
    if (protocol === 'data:' || protocol === 'blob:') return;
    if (host === new URL(own).host && ['http:', 'ws:'].includes(protocol)) seen.asked.add(pathname);
    else seen.elsewhere.push(url);
  };
  context.on('request', (request) => look(request.url()));
  context.on('response', (response) => {
    const policy = response.headers()['content-security-policy'] ?? '';
    if (response.request().isNavigationRequest() && !/default-src 'self';script-src 'self';/.test(policy)) seen.loose.push(response.url());
  });
  context.on('page', (page) => { page.on('websocket', (socket) => look(socket.url())); });
  // Chromium says on the console what the policy kept from being fetched or run.
  context.on('console', (message) => { if (message.text().includes('Content Security Policy')) seen.forbidden.push(message.text()); });
}

test('R57 R60 through a class, at the desk and on every page there is, nothing is asked of anybody but the studio\'s own server', async ({ browser }) => {
  const hall = await studio([{ ...shortPlan, name: `Short class ${HOSTILE}`, sections: shortPlan.sections.map((s) => ({ ...s, name: `${s.id} ${HOSTILE}` })) }]);
  await hall.start();
  const seen: Seen = { asked: new Set(), elsewhere: [], loose: [], forbidden: [] };
  const wall = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  const hand = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  for (const context of [wall, hand]) await watch(context, hall.url, seen);
  const [screen, phone] = [await wall.newPage(), await hand.newPage()];

  await screen.goto(`${hall.url}/screen`);
  await phone.goto(`${hall.url}/phone?code=${await codeOn(screen)}`);
  await press(phone, /^Short class/);
  await press(phone, 'Start');
  await expect(title(screen)).toContainText(HOSTILE);
  await settle(phone);
  await press(phone, 'Go');
  await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work');

  const desk = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  await desk.addCookies(insideAt(hall.url));
  await watch(desk, hall.url, seen);
  const page: Page = await desk.newPage();
  const asks: Readonly<Record<string, string>> = { '/desk': '/api/classes', '/desk/plans': '/api/plans', '/movements': '/api/movements' };
  for (const path of ['/', '/screen/garden', '/screen?rehearse=short&rate=10', '/desk', '/desk/plans', '/desk/plans/short', '/desk/timetable', '/desk/home', '/desk?review', '/desk?now', '/desk?devices', '/movements', '/movements/new', '/answer/none', '/phone']) {
    await page.goto(`${hall.url}${path}`);
    await expect(page.locator('#root, #app, body > div').first(), path).not.toBeEmpty();
    await page.waitForLoadState('load');
    const asked = asks[path];
    if (asked !== undefined) await expect.poll(() => [...seen.asked], path).toContain(asked);
  }
  expect([...seen.asked].filter((path) => path.includes('hostile'))).toEqual([]);
  expect(seen.elsewhere).toEqual([]);
  expect(seen.loose).toEqual([]);
  expect(seen.forbidden).toEqual([]);
  for (const path of ['/socket.io/', '/movements/new', ...Object.values(asks)]) expect([...seen.asked], path).toContain(path);

  // That the watch would see it: a page of ours that asks elsewhere is seen, and the policy keeps it from being asked.
  const port = Number(new URL(hall.url).port);
  const got = await page.evaluate((url) => fetch(url).then(() => 'asked', () => 'kept'), `http://localhost:${port}/api/health`);
  expect(got).toBe('kept');
  await expect.poll(() => seen.forbidden.length + seen.elsewhere.length).toBeGreaterThan(0);
  for (const context of [wall, hand, desk]) await context.close();
  await hall.close();
});
