/** Owns that a real server learns from its own log what shows take, and starts the next class with it. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import request from 'supertest';
import { expect, it } from 'vitest';
import { openPastShows } from '../../server/past-shows.ts';
import { CLASSES_LEARNED_MAX } from '../../shared/limits.ts';
import { view } from '../../shared/view/view.ts';
import { showsSchema } from '../../shared/wire/http.ts';
import { device, live, newFolder, pair, serve } from './serve.ts';

const plan = {
  format: 1, id: 'shown', name: 'Shown class',
  sections: [{ id: 'main', kind: 'main', show: 'each', showEstimate: 9, work: 30, rest: 10, items: [{ movement: 'squat' }, { movement: 'glute-bridge' }] }],
};
const waitMs = (ms: number) => new Promise((resolve) => { setTimeout(resolve, ms); });

it('F23 what a show took is learned from the log, by instructor, and the next class starts with it; everybody\'s is called so', async () => {
  const data = newFolder();
  mkdirSync(join(data, 'plans'));
  writeFileSync(join(data, 'plans', 'shown.json'), JSON.stringify(plan));
  const server = await serve(data);
  const screen = device(server.url, 'screen');
  const phone = device(server.url, 'phone', await pair(server.url, screen));
  await phone.until(live, 'the phone');
  const shows = async (query: string) => showsSchema.parse((await request(server.url).get(`/api/plans/shown/shows${query}`).expect(200)).body).shows;
  expect(await shows('?instructor=Ada')).toEqual([]);

  await phone.room().send({ type: 'start', plan: 'shown', freeAt: null, instructor: 'Ada' });
  const { session, now } = await phone.until((r) => r.session !== null, 'the class');
  expect(session).toMatchObject({ instructor: 'Ada', estimates: {} });
  await waitMs(1_100);
  const at = now();
  if (!session || at === null) throw new Error('no class');
  expect(view(session, at).phase).toBe('watch');
  expect(await phone.room().send({ type: 'go', occurrence: view(session, at).occurrence })).toEqual({ done: true });
  await phone.room().send({ type: 'end' });

  // (1 x 1.1 s + 3 x 9 s) / 4, to the second.
  const learned = { movement: 'squat', plannedMs: 9_000, usuallyMs: 7_000, of: 1 };
  expect(await shows('?instructor=Ada')).toEqual([{ ...learned, from: 'own' }]);
  expect(await shows('?instructor=Bo')).toEqual([{ ...learned, from: 'everybody' }]);
  expect(await shows('')).toEqual([{ ...learned, from: 'everybody' }]);
  await request(server.url).get(`/api/plans/shown/shows?instructor=${'x'.repeat(21)}`).expect(400);
  await request(server.url).get('/api/plans/none/shows').expect(404);

  await phone.room().send({ type: 'start', plan: 'shown', freeAt: null });
  const next = await phone.until((r) => r.session !== null && r.session.id !== session.id, 'the next class');
  expect(next.session).toMatchObject({ instructor: null, estimates: { squat: 7_000 } });
  expect(next.session?.intervals.find((i) => i.kind === 'show' && i.movement === 'squat')?.lengthMs).toBe(7_000);
  screen.close();
  phone.close();
  await server.close();
});

it('F24 only the newest classes are learned from, each read once while its log stands; a log that cannot be read keeps what is known', async () => {
  let classes = [{ id: 'a', seq: 3 }, { id: 'b', seq: 5 }];
  let broken = false;
  const asked: string[] = [];
  const warnings: string[] = [];
  const past = openPastShows({
    newest: async (limit) => {
      if (broken) throw new Error('the disk does not answer');
      expect(limit).toBe(CLASSES_LEARNED_MAX);
      return classes;
    },
    shows: async (id) => {
      asked.push(id);
      return [{ movement: id, instructor: null, ms: 1_000 }];
    },
  }, (sentence) => { warnings.push(sentence); });
  await Promise.all([past.times(), past.times()]);
  expect(asked).toEqual(['a', 'b']);
  classes = [{ id: 'b', seq: 6 }, { id: 'c', seq: 2 }];
  expect((await past.times()).map((t) => t.movement)).toEqual(['b', 'c']);
  expect(asked).toEqual(['a', 'b', 'b', 'c']);
  broken = true;
  expect((await past.times()).map((t) => t.movement)).toEqual(['b', 'c']);
  expect(warnings).toEqual([expect.stringContaining('the disk does not answer')]);
});
