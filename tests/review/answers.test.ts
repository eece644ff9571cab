/** Owns the one question after a class, of a real server: what is counted, what is kept, and when what it comes to is told. */
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import request from 'supertest';
import { expect, it } from 'vitest';
import { openReviews } from '../../server/review/reviews.ts';
import { ANSWERS_OPEN_MS } from '../../shared/limits.ts';
import { recordBodySchema } from '../../shared/wire/review.ts';
import { device, inside, live, newFolder, pair, serve } from '../server/serve.ts';
import { movements } from './held.ts';

it('R300 answers are counted, one a phone and a class, and nothing else is kept of them', async () => {
  const folder = newFolder();
  const studio = await serve(folder);
  const screen = device(studio.url, 'screen');
  const phone = device(studio.url, 'phone', await pair(studio.url, screen));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  await phone.until((r) => r.session !== null, 'the class');
  const id = phone.room().session?.id ?? '';
  await request(studio.url).post(`/api/answers/${id}`).send({ rating: 5 }).expect(409);
  await phone.room().send({ type: 'end' });
  await request(studio.url).get(`/api/answers/${id}`).expect(200);
  for (const rating of [-1, 11, 4.5, '5', null]) await request(studio.url).post(`/api/answers/${id}`).send({ rating }).expect(400);
  const answer = await request(studio.url).post(`/api/answers/${id}`).send({ rating: 6 }).expect(200, { thanks: true });
  expect(answer.headers['set-cookie']).toBeUndefined();
  await request(studio.url).post(`/api/answers/${id}`).send({ rating: 1 }).expect(409, { error: 'This phone has answered for this class already. Thank you.' });
  expect(await studio.studio.store.answers(id)).toEqual([{ rating: 6, n: 1 }]);
  // Fewer than three are shown to nobody, in no answer and no file.
  await studio.studio.store.answer(id, 8);
  const body = async () => recordBodySchema.parse((await inside(studio.url).get(`/api/classes/${id}/record`).expect(200)).body);
  await expect.poll(async () => (await body()).record?.id, { timeout: 20_000 }).toBe(id);
  expect((await body()).record?.effort).toBeNull();
  await request(studio.url).get('/api/answers/none').expect(404);
  screen.close();
  phone.close();
  await studio.close();
  for (const name of readdirSync(folder).filter((n) => n.includes('.db'))) expect(readFileSync(join(folder, name)).includes('127.0.0.1')).toBe(false);
}, 60_000);

it('R330 what the answers come to is told once, when no more can come: no answer shows in the difference of two means', async () => {
  const folder = newFolder();
  const studio = await serve(folder);
  const { store } = studio.studio;
  const screen = device(studio.url, 'screen');
  const phone = device(studio.url, 'phone', await pair(studio.url, screen));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  await phone.until((r) => r.session !== null, 'the class');
  const id = phone.room().session?.id ?? '';
  await phone.room().send({ type: 'end' });
  const body = async () => recordBodySchema.parse((await inside(studio.url).get(`/api/classes/${id}/record`).expect(200)).body);
  await expect.poll(async () => (await body()).record?.id, { timeout: 20_000 }).toBe(id);
  const told = async () => {
    const at = (await body()).record?.startedAt ?? 0;
    const week = (await inside(studio.url).get('/api/review').expect(200)).body.weeks.find((w: { held: number }) => w.held > 0);
    const [names = [], row = []] = Papa.parse<string[]>((await inside(studio.url).get('/api/export.csv').expect(200)).text).data;
    const cells = ['effort answers', 'effort mean', 'session load'].map((name) => row[names.indexOf(name)]);
    return [at > 0, (await body()).record?.effort, (await inside(studio.url).get(`/api/classes/${id}/class.json`)).body.effort, week.rated, week.load, ...cells];
  };
  const nothing = [true, null, null, 0, 0, '', '', ''];
  for (const rating of [6, 8, 7, 2]) {
    await store.answer(id, rating);
    expect(await told()).toEqual(nothing);
  }
  expect((await body()).answersUntil).toMatch(/^\d\d:\d\d$/);
  // Two hours on no more come in, and all four count at once; a millisecond before, none.
  const { endedAt } = (await body()).record ?? { endedAt: 0 };
  let at = endedAt + ANSWERS_OPEN_MS - 1;
  const later = openReviews({ store, data: newFolder(), timeZone: 'UTC', movements: async () => movements, now: () => at, warn: (sentence) => { throw new Error(sentence); } });
  const effort = async () => { await later.upToDate(30_000); return (await later.ask('one', id))?.effort; };
  expect(await effort()).toBeNull();
  at += 1;
  expect(await effort()).toEqual({ answers: 4, mean: 5.75 });
  await later.stop();
  screen.close();
  phone.close();
  await studio.close();
}, 60_000);
