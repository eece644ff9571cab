/** Holds the timetable against the real server: kept, due, as a calendar, and refused. */
import ICAL from 'ical.js';
import request from 'supertest';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { dayOf } from '../../shared/time/wall.ts';
import { dueSchema, type TimetableBody, timetableBodySchema } from '../../shared/wire/plans.ts';
import { device, newFolder, pair, serve } from './serve.ts';

let cookie = '';
let server: Awaited<ReturnType<typeof serve>>;
beforeAll(async () => {
  server = await serve(newFolder());
  const screen = device(server.url, 'screen');
  cookie = await pair(server.url, screen);
  screen.close();
});
afterAll(() => server.close());

const read = async (): Promise<TimetableBody> => timetableBodySchema.parse((await request(server.url).get('/api/timetable').expect(200)).body);
const put = (base: string, entries: object[], by = cookie) => request(server.url).put('/api/timetable').set('cookie', by).send({ base, entries });
const line = (more: object = {}) => ({ id: 'now', plan: 'first-steps', room: 'garden', day: dayOf(Date.now() + 10 * 60_000, 'UTC'), at: new Date(Date.now() + 10 * 60_000).toISOString().slice(11, 16), minutes: 45, weekly: true, ...more });

it('W203 the timetable is kept, says what is due, and a second editor overwrites nothing', async () => {
  const { revision } = await read();
  expect(dueSchema.parse((await request(server.url).get('/api/rooms/garden/due')).body)).toEqual({ due: null });
  const kept = timetableBodySchema.parse((await put(revision, [line()]).expect(200)).body);
  expect(await read()).toEqual(kept);
  expect(dueSchema.parse((await request(server.url).get('/api/rooms/garden/due')).body).due?.plan).toBe('first-steps');
  expect((await put(revision, []).expect(409)).body.error).toContain('Somebody else changed the timetable');
  expect(await read()).toEqual(kept);
  const calendar = await request(server.url).get('/api/timetable.ics').expect(200).expect('content-type', /text\/calendar/);
  const events = new ICAL.Component(ICAL.parse(calendar.text)).getAllSubcomponents('vevent');
  expect(events.map((e) => new ICAL.Event(e).isRecurring())).toEqual([true]);
  expect(new Set(events.map((e) => new ICAL.Event(e).summary))).toEqual(new Set(['First steps']));
});

it('K204 R200 a timetable that cannot be kept is refused with what and where', async () => {
  const { revision, entries } = await read();
  await put(revision, [], '').expect(403);
  for (const [more, sentence] of [
    [{ at: '25:00' }, 'a time is written 18:30'], [{ day: '2026-02-30' }, 'there is no such day'], [{ room: 'attic' }, 'There is no room "attic"'],
    [{ plan: 'nothing' }, 'has no plan "nothing"'], [{ minutes: 0 }, 'at least 1'], [{ until: '2020-01-01' }, 'the last day is before the first'],
  ] as const) expect((await put(revision, [line(more)]).expect(400)).body.error).toContain(sentence);
  expect((await put(revision, [line(), line()]).expect(400)).body.error).toContain('used twice');
  expect((await read()).entries).toEqual(entries);
});
