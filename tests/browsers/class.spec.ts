/**
 * Runs a class on the screen, and the phone, in browsers of other kinds and of another age (drive.ts).
 * The class is led by a phone of this program; pictures of every state lie in .cache/pictures/browsers.
 */
import { mkdirSync } from 'node:fs';
import { expect, test } from '@playwright/test';
import { controls } from '../../shared/view/controls.ts';
import { shortPlan, studio } from '../browser/studio.ts';
import { device, live, pair, sessionOf } from '../server/serve.ts';
import { chromium79, type Driven, firefox, type Kind, webkit } from './drive.ts';

const pictures = new URL('../../.cache/pictures/browsers/', import.meta.url).pathname;
mkdirSync(pictures, { recursive: true });

const text = (selector: string) => `((document.querySelector(${JSON.stringify(selector)}) || {}).textContent || '')`;
const phase = "((document.querySelector('.class') || {dataset: {}}).dataset.phase || '')";
/** How far the clay has sunk, of its own height. */
const sunk = `(function () {
  var clay = document.querySelector('.tide-clay');
  var box = clay && clay.getBoundingClientRect();
  return box ? (box.top - clay.parentElement.getBoundingClientRect().top) / box.height : -1;
})()`;
/** Words that reach beyond the window, or lie on one another. */
const astray = `(function () {
  var boxes = [].slice.call(document.querySelectorAll('.head .title, .corner, .seconds, .count .line, .option .words, .next-words, .doors .title, .code, .cautions > *'))
    .map(function (e) { return { name: e.className + ' ' + e.textContent.slice(0, 20), box: e.getBoundingClientRect() }; })
    .filter(function (e) { return e.box.width > 0 && e.box.height > 0; });
  var out = boxes.filter(function (e) { return e.box.left < -1 || e.box.right > innerWidth + 1 || e.box.top < -1 || e.box.bottom > innerHeight + 1; });
  var over = [];
  boxes.forEach(function (a, i) { boxes.slice(i + 1).forEach(function (b) {
    var w = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
    var h = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
    if (w > 2 && h > Math.min(a.box.height, b.box.height) * 0.3) over.push(a.name + ' / ' + b.name);
  }); });
  return out.map(function (e) { return 'outside: ' + e.name; }).concat(over.map(function (n) { return 'on one another: ' + n; }));
})()`;
const click = (name: string) => `(function () {
  var found = [].slice.call(document.querySelectorAll('button')).filter(function (b) { return b.textContent.indexOf(${JSON.stringify(name)}) === 0 && !b.disabled; })[0];
  if (found) found.click();
  return Boolean(found);
})()`;

async function opened(kind: Kind): Promise<Driven> {
  const driven = await kind.open();
  if (typeof driven !== 'string') return driven;
  process.stdout.write(`not run in ${kind.name}: ${driven}\n`);
  test.skip(true, `${kind.name}: ${driven}`);
  throw new Error('unreachable');
}

for (const kind of [chromium79, firefox, webkit]) {
  const file = (name: string) => `${pictures}${kind.name.toLowerCase().replace(' ', '-')}-${name}.png`;

  test(`V453 the screen runs a class in ${kind.name}: work, the other side, a pause, the end`, async () => {
    const it = await opened(kind);
    const hall = await studio([shortPlan]);
    try {
      await hall.start();
      await it.size(1280, 720);
      await it.goto(`${hall.url}/screen`);
      const is = (ask: string) => expect.poll(() => it.ask<string>(ask), { timeout: 60_000 });
      await is(text('.code')).toMatch(/^\d{3} \d{3}$/);
      const desk = device(hall.url, 'screen');
      const phone = device(hall.url, 'phone', await pair(hall.url, desk));
      await phone.until(live, 'the phone');
      const press = async (which: 'big' | 'changeSides' | 'moveOn') => {
        const command = controls(sessionOf(phone), phone.room().now() as never)[which];
        if (!command) throw new Error(`${which} cannot be pressed now`);
        expect(await phone.room().send(command)).toEqual({ done: true });
      };
      const look = async (name: string) => {
        await it.picture(file(name));
        expect(await it.ask<string[]>(astray), name).toEqual([]);
      };
      await look('doors');

      expect(await phone.room().send({ type: 'start', plan: 'short', freeAt: null })).toEqual({ done: true });
      await is(text('.class .title')).toBe('Welcome');
      await look('talk');
      await press('big');
      await is(phase).toBe('work');
      await is(text('.class .title')).toBe('Squat');
      const seconds = Number(await it.ask<string>(text('.seconds')));
      const before = await it.ask<number>(sunk);
      await look('work');
      await is(text('.seconds')).not.toBe(String(seconds));
      await expect.poll(() => it.ask<number>(sunk), { timeout: 60_000 }).toBeGreaterThan(before);
      await press('big');
      await is(text('.class .title')).toBe('Paused');
      await look('paused');
      await press('big');
      await is(phase).toBe('work');
      await press('moveOn');
      await is(`${phase} + ${text('.class .title')}`).toBe('workReverse lunge');
      await is(text('.count .line')).toMatch(/right/i);
      await look('right');
      await expect.poll(() => controls(sessionOf(phone), phone.room().now() as never).changeSides, { timeout: 60_000 }).not.toBeNull();
      await press('changeSides');
      await is(`${phase} + ${text('.count .line')}`).toMatch(/^work.*left/i);
      await look('left');
      expect(await phone.room().send({ type: 'end' })).toEqual({ done: true });
      await is(text('.class .title')).toBe('Well done');
      await look('over');
      phone.close();
      desk.close();
      process.stdout.write(`ran in ${await Promise.resolve(it.version)}\n`);
    } finally {
      await it.close();
      await hall.close();
    }
  });

  test(`V454 the phone is paired and runs a class in ${kind.name}`, async () => {
    const it = await opened(kind);
    const hall = await studio([shortPlan]);
    try {
      await hall.start();
      const screen = device(hall.url, 'screen');
      const shown = await screen.until((r) => Boolean(r.about?.pairing), 'a code');
      await it.size(450, 844);
      await it.goto(`${hall.url}/phone?code=${shown.about?.pairing?.code ?? ''}`);
      const presses = (name: string) => expect.poll(() => it.ask<boolean>(click(name)), { timeout: 60_000 }).toBe(true);
      await presses('Short class');
      await expect.poll(() => it.ask<string>(text('.page h2')), { timeout: 60_000 }).toMatch(/^Short class/);
      await it.picture(file('phone-plan'));
      await presses('Start');
      await screen.until((r) => r.session !== null, 'the class');
      await expect.poll(() => it.ask<string>(text('.big')), { timeout: 60_000 }).toMatch(/Go/);
      await it.picture(file('phone-talk'));
      // The big control takes no second tap right after its meaning has changed.
      await expect.poll(async () => {
        await it.ask(click('Go'));
        return it.ask<string>(text('.big'));
      }, { timeout: 60_000, intervals: [900] }).toMatch(/Pause/);
      await expect.poll(() => it.ask<string>(text('.digits')), { timeout: 60_000 }).toMatch(/^\d+$/);
      await it.picture(file('phone-work'));
      screen.close();
    } finally {
      await it.close();
      await hall.close();
    }
  });
}
