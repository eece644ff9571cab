/** Leads a class from the phone by a taught key, listens to what a screen reader would say of it, and puts it on a home screen. */
import { codeOn, open, press, settle, title } from './hands.ts';
import { shortPlan, studio } from './studio.ts';
import { expect, test } from './test.ts';

test('W310 a key that was taught is the big control, once however long it is held; live regions say little in a class', async ({ browser }) => {
  const hall = await studio([shortPlan]);
  await hall.start();
  const { screen, phone } = await open(browser, hall);
  await phone.goto(`${hall.url}/phone?code=${await codeOn(screen)}`);
  const keys = phone.getByRole('region', { name: 'Keys' });
  await expect(keys.locator('kbd')).toHaveText(['Enter', 'Space', 'Page Down']);
  const teach = async (key: string) => {
    await press(phone, 'Teach another key');
    await phone.keyboard.press(key);
  };
  await teach('Tab');
  await expect(keys.getByRole('status')).toHaveText(/meaning of its own/);
  await teach('PageDown');
  await expect(keys.getByRole('status')).toHaveText(/does it already/);
  await teach('F8');
  await expect(keys.locator('kbd')).toHaveText(['Enter', 'Space', 'Page Down', 'F8']);
  await phone.reload();
  await expect(keys.locator('kbd').last()).toHaveText('F8');

  await press(phone, /^Short class/);
  await expect(screen.locator('.doors .title')).toHaveText('Short class');
  await press(phone, 'Start');
  await expect(title(screen)).toHaveText('Welcome');
  // What a reader of the screen would be told from now on, with nobody moving about the page.
  await phone.evaluate(() => {
    const said: string[] = [];
    Object.assign(window, { said });
    const live = '[role=status], [role=alert], [role=timer], [aria-live]';
    new MutationObserver((changes) => {
      for (const { target, addedNodes } of changes) {
        const region = (target instanceof Element ? target : target.parentElement)?.closest(live);
        for (const words of [region?.textContent, ...[...addedNodes].map((n) => (n instanceof Element && n.matches(live) ? n.textContent : ''))]) if (words) said.push(words);
      }
    }).observe(document.body, { subtree: true, childList: true, characterData: true });
  });
  await settle(phone);
  await phone.keyboard.press('F8');
  await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work');
  await settle(phone);
  await phone.keyboard.down('F8');
  for (let k = 0; k < 5; k += 1) await phone.keyboard.down('F8');
  await expect(title(screen)).toHaveText('Paused');
  for (let k = 0; k < 5; k += 1) await phone.keyboard.down('F8');
  await settle(phone);
  await phone.keyboard.down('F8');
  await expect(title(screen)).toHaveText('Paused');
  await phone.keyboard.up('F8');
  await phone.keyboard.press('F8');
  await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work');
  await press(phone, 'Move on');
  await expect(title(screen)).toHaveText('Reverse lunge');
  await expect(screen.locator('.class')).toHaveAttribute('data-phase', 'work');
  // Half a minute of class and four presses: not one word that nobody asked for.
  expect(await phone.evaluate(() => (window as unknown as { said: string[] }).said)).toEqual([]);
  // The big control has the name of what it does, and the seconds are read by whoever goes to them.
  await expect(phone.getByRole('button', { name: 'Pause', exact: true })).toBeVisible();
  await hall.close();
});

test('W311 the phone has what a home screen asks for, and stays awake by a film where no lock is to be had', async ({ browser }) => {
  const hall = await studio([shortPlan]);
  await hall.start();
  const { screen, phone } = await open(browser, hall);
  await phone.addInitScript(() => {
    // As over plain http to an address.
    Reflect.deleteProperty(Navigator.prototype, 'wakeLock');
    const { play } = HTMLMediaElement.prototype;
    HTMLMediaElement.prototype.play = function played(this: HTMLMediaElement) {
      Object.assign(window, { film: this });
      return play.call(this);
    };
  });
  await phone.goto(`${hall.url}/phone?code=${await codeOn(screen)}`);
  const manifest = await (await phone.request.get(`${hall.url}${await phone.locator('link[rel=manifest]').getAttribute('href')}`)).json() as { start_url: string; display: string; icons: { src: string; sizes: string }[] };
  expect(manifest).toMatchObject({ start_url: '/phone', display: 'standalone' });
  for (const { src, sizes } of [...manifest.icons, { src: '/icons/180.png', sizes: '180x180' }]) {
    const png = await (await phone.request.get(`${hall.url}${src}`)).body();
    // Width and height of a PNG stand at bytes 16 and 20 (W3C PNG, 11.2.2).
    expect(`${png.readUInt32BE(16)}x${png.readUInt32BE(20)}`).toBe(sizes);
  }
  await press(phone, /^Short class/);
  await expect(screen.locator('.doors .title')).toHaveText('Short class');
  await press(phone, 'Start');
  await expect(title(screen)).toHaveText('Welcome');
  const plays = () => phone.evaluate(() => {
    const { film } = window as unknown as { film?: HTMLVideoElement };
    return film instanceof HTMLVideoElement && !film.paused;
  });
  await expect.poll(async () => {
    await phone.locator('.room-name').first().click();
    return plays();
  }, { timeout: 30_000 }).toBe(true);
  await press(phone, 'More');
  await press(phone, 'End the class');
  await press(phone, 'End the class');
  await expect(title(screen)).toHaveText('Well done');
  await expect.poll(plays, { timeout: 30_000 }).toBe(false);
  await hall.close();
});
