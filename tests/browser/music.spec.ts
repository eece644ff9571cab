/**
 * Drives the studio's music as it is heard: each kind of file, a file that is none, from track to track,
 * under a signal, while somebody shows and while the class is paused. Judged by what went to the loudspeaker.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import type { PlanInput } from '../../shared/plan/plan.ts';
import { outs, samplesOf, taken, tapMusic } from '../sound/tap.ts';
import { amplitudes, codedTone, toneFile } from '../sound/tones.ts';
import { device, live, pair } from '../server/serve.ts';
import { codeOn, open, press } from './hands.ts';
import { studio } from './studio.ts';
import { expect, test } from './test.ts';

const plan: PlanInput = {
  format: 1, id: 'quiet', name: 'Quiet', group: 'general',
  sections: [{ id: 'main', kind: 'main', show: 'each', rest: 8, lastRest: false, items: [{ movement: 'squat', work: 120 }] }],
};
const kinds = [['3 three.mp3', 550, 'audio/mpeg'], ['4 four.m4a', 660, 'audio/mp4; codecs="mp4a.40.2"'], ['5 five.ogg', 770, 'audio/ogg; codecs="vorbis"'], ['6 six.flac', 880, 'audio/flac']] as const;
const ONE = 440;
/** Ten periods of 100 Hz: tones that lie a multiple of 10 Hz apart do not disturb each other. */
const WINDOW_MS = 100;
/** Six of ten steps of the volume are 12 dB under the file, which is a third of full scale; a signal takes it below the lower. */
const FULL = 0.07;
const HEARD = 0.02;
const say = (line: string) => process.stdout.write(`${line}\n`);

test.use({ bypassCSP: true });

/** How loud a tone is just now, or all there is. */
const now = async (screen: Page, hz: number | null): Promise<number> => {
  const { x, rate } = (await screen.evaluate(`({ x: window.tap.blocks.slice(-80).flatMap((b) => [...b.samples]), rate: window.Howler.ctx.sampleRate })`)) as { x: number[]; rate: number };
  if (hz === null) return Math.max(0, ...x.map(Math.abs));
  return amplitudes(Float64Array.from(x), rate, hz, (x.length * 1_000) / rate)[0] ?? 0;
};
const heard = (screen: Page, hz: number | null) => expect.poll(() => now(screen, hz), { timeout: 60_000 }).toBeGreaterThan(HEARD);
const silent = (screen: Page) => expect.poll(() => now(screen, null), { timeout: 60_000 }).toBeLessThan(0.002);

test('C142 C143 C21 C144 every kind of file is played in turn, a broken one is skipped and logged, music stands back under a signal, and is quiet in shows and pauses', async ({ browser }) => {
  const hall = await studio([plan]);
  const folder = `${hall.data}/music`;
  mkdirSync(folder);
  toneFile(`${folder}/1 one.wav`, ONE, 7);
  // It begins as a file of music does, so that only the browser can find out.
  writeFileSync(`${folder}/2 two.mp3`, Buffer.concat([Buffer.from('ID3'), Buffer.alloc(4_000, 'no music ')]));
  const refused = kinds.map(([file, hz]) => codedTone(`${folder}/${file}`, hz, 40));
  await hall.start();
  const { screen, phone } = await open(browser, hall);
  await screen.addInitScript(outs);
  await screen.reload();
  const plays = await Promise.all(kinds.map(async ([file, , type], i) => {
    const why = refused[i] ?? ((await screen.evaluate((t) => new Audio().canPlayType(t), type)) === '' ? 'This browser does not play it.' : null);
    if (why !== null) say(`left out: ${file}. ${why}`);
    return why === null;
  }));
  await phone.goto(`${hall.url}/phone?code=${await codeOn(screen)}`);
  await screen.keyboard.press('a');
  await expect(phone.getByText('The screen can be heard.')).toBeVisible();
  await tapMusic(screen);

  await press(phone, 'Sound');
  await press(phone, 'Shuffled');
  await press(phone, 'Music is off');
  await heard(screen, ONE);
  await expect(phone.locator('.sound-title')).toHaveText('1 one');
  const playable = kinds.filter((_, i) => plays[i]);
  await test.step('what comes after the first comes by itself, past the broken one; then the phone goes on', async () => {
    for (const [i, [file, hz]] of playable.entries()) {
      if (i > 0) await press(phone, 'Next track');
      await expect(phone.locator('.sound-title')).toHaveText(file.replace(/\.\w+$/, ''));
      await heard(screen, hz);
    }
    if (playable.length > 0) await expect.poll(() => hall.said()).toContain('music: 2 two.mp3 cannot be played by the screen; it is skipped.');
  });
  const last = playable.at(-1)?.[1] ?? ONE;
  await test.step('under a signal', async () => {
    await expect.poll(() => now(screen, last), { timeout: 60_000 }).toBeGreaterThan(FULL);
    await press(phone, 'Sound the screen now');
    await expect.poll(() => now(screen, last), { timeout: 60_000, intervals: [50] }).toBeLessThan(HEARD);
    await expect.poll(() => now(screen, last), { timeout: 60_000 }).toBeGreaterThan(FULL);
  });

  const take = await taken(screen);
  const x = samplesOf(take);
  const db = (hz: number) => {
    const found = amplitudes(x, take.rate, hz, WINDOW_MS);
    const full = Math.max(...found);
    return found.map((a) => 20 * Math.log10(Math.max(a, 1e-6) / full));
  };
  const ofLast = db(last);
  const down = ofLast.slice(ofLast.findIndex((level) => level > -0.5)).sort((a, b) => a - b)[2] ?? 0;
  say(`under a signal the music is ${down.toFixed(1)} dB`);
  expect(down).toBeGreaterThan(-18);
  expect(down).toBeLessThan(-12);
  const one = db(ONE);
  const fall = one.slice(one.findLastIndex((level) => level > -1));
  const between = fall.slice(0, fall.findIndex((level) => level < -25));
  const [second] = playable;
  const both = second ? db(second[1]).filter((level, i) => level > -20 && (one[i] ?? -99) > -20).length : 0;
  say(`from track to track: the first falls from -1 to -25 dB in ${(between.length * WINDOW_MS) / 1_000} s, both are heard (above -20 dB) for ${(both * WINDOW_MS) / 1_000} s`);
  // A cut would leave one window between.
  if (second) expect(between.length).toBeGreaterThan(3);

  await press(phone, 'Close');
  const helper = device(hall.url, 'screen');
  const hand = device(hall.url, 'phone', await pair(hall.url, helper));
  await hand.until(live, 'a second phone');
  helper.close();
  await press(phone, /^Quiet/);
  await press(phone, 'Start');
  await test.step('quiet while somebody shows, unless the room wants it otherwise', async () => {
    await silent(screen);
    await hand.room().sound({ do: 'music', music: { quietInShows: false } });
    await heard(screen, null);
    await hand.room().sound({ do: 'music', music: { quietInShows: true } });
    await silent(screen);
  });
  await test.step('back for the work, quiet in a pause, back after it', async () => {
    await press(phone, 'Go');
    await heard(screen, null);
    await expect(screen.locator('.class .title')).toHaveText('Squat');
    await hand.room().send({ type: 'pause', reason: null });
    await silent(screen);
    await hand.room().send({ type: 'carry-on', pause: 1 });
    await heard(screen, null);
  });
  hand.close();
  await hall.close();
});
