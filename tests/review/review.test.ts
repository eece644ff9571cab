/** Owns the review of a real server: sums held against the logs themselves, exports read back, answers counted and nothing else. */
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Papa from 'papaparse';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { spreadOf } from '../../server/review/spread.ts';
import { localTime, recordOf } from '../../server/review/record.ts';
import { classBodySchema, classesSchema } from '../../shared/wire/http.ts';
import { liveSchema, type Review, reviewSchema } from '../../shared/wire/review.ts';
import { serverAt } from '../../shared/time/units.ts';
import { report } from '../../shared/view/report.ts';
import type { Event } from '../../shared/session/command.ts';
import { device, inside, live, newFolder, pair, serve } from '../server/serve.ts';
import { movements } from './held.ts';
import { makeYears } from './years.ts';

const data = newFolder();
let server: Awaited<ReturnType<typeof serve>>;
const logs: Event[][] = [];
const classes = 60;
beforeAll(async () => {
  makeYears({ data, classes, events: 30, seed: 11, until: '2026-11-20', rooms: ['garden', 'street'], different: 20 });
  server = await serve(data, { HALLCLOCK_ROOMS: 'garden:Garden room,street:Street room', HALLCLOCK_TIME_ZONE: 'Europe/Berlin' });
  await all();
  const list = classesSchema.parse((await inside(server.url).get('/api/classes?limit=100')).body);
  for (const { id } of list.classes) logs.push(classBodySchema.parse((await inside(server.url).get(`/api/classes/${id}`)).body).events);
}, 60_000);
afterAll(() => server.close());

async function review(query = ''): Promise<Review> {
  return reviewSchema.parse((await inside(server.url).get(`/api/review?from=2020-01-01${query}`).expect(200)).body);
}
async function all(): Promise<Review> {
  let r = await review();
  for (let tries = 0; r.toRead > 0 && tries < 300; tries += 1) {
    await new Promise((resolve) => { setTimeout(resolve, 100); });
    r = await review();
  }
  expect(r.toRead).toBe(0);
  return r;
}
const reports = () => logs.map((events) => {
  const r = report(events, serverAt(Number.MAX_SAFE_INTEGER));
  if (!r) throw new Error('no report');
  return r;
});
const sum = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

it('V300 sums over many classes are those of their logs, by week, room, plan and move', async () => {
  const r = await all();
  const held = reports();
  expect(r.held).toBe(classes);
  expect(sum(r.weeks.map((w) => w.held))).toBe(classes);
  for (const groups of [r.weeks, r.rooms, r.plans, r.series]) {
    expect(sum(groups.map((g) => g.totalMs))).toBe(sum(held.map((h) => h.totalMs)));
    expect(sum(groups.map((g) => g.workMs))).toBe(sum(held.map((h) => h.accounts.together + h.accounts.left + h.accounts.right)));
    expect(sum(groups.map((g) => g.formStops))).toBe(sum(held.map((h) => h.pauses.filter((p) => p.reason === 'form').length)));
    expect(sum(groups.map((g) => g.heads))).toBe(sum(held.map((h) => h.session.headCount ?? 0)));
  }
  for (const room of r.rooms) expect(room.held).toBe(held.filter((h) => h.session.room === room.key).length);
  expect(r.rooms.map((g) => g.name)).toEqual(['Garden room', 'Street room']);
  const squat = r.moves.find((m) => m.movement === 'squat');
  const own = held.flatMap((h) => h.rows).filter(({ interval: i }) => i.kind === 'work' && i.movement === 'squat' && !i.stations && !i.prompts);
  expect(squat?.workMs).toBeGreaterThanOrEqual(sum(own.map((row) => row.real?.lengthMs ?? 0)));
  const shown = held.flatMap((h) => h.rows).filter(({ interval: i, real, planned }) => i.kind === 'show' && i.ends === 'go' && i.movement === 'squat' && real && planned);
  expect(squat).toMatchObject({ shows: shown.length, showRealMs: sum(shown.map((row) => row.real?.lengthMs ?? 0)) });
  const one = await review('&room=street&plan=forty-twenty');
  expect(one.held).toBe(held.filter((h) => h.session.room === 'street' && h.session.plan.id === 'forty-twenty').length);
});

it('V320 of a chosen movement there are only classes that have it, its own work, stops, shows and cuts, and nothing of other moves', async () => {
  const r = await review('&movement=squat');
  const own = reports().map((h) => ({
    h,
    rows: h.rows.filter(({ interval: i }) => i.movement === 'squat' && !i.stations && !i.prompts),
    has: h.rows.some(({ interval: i }) => i.movement === 'squat' || i.stations?.movements.includes('squat') || i.prompts?.includes('squat')),
  })).filter(({ has }) => has);
  expect(own.length).toBeGreaterThan(3);
  expect(own.length).toBeLessThan(classes);
  expect([r.held, r.movement]).toEqual([own.length, { key: 'squat', name: 'Squat' }]);
  expect(r.moves.map((m) => m.movement)).toEqual(['squat']);
  const whole = (await all()).moves.find((m) => m.movement === 'squat');
  expect(r.moves[0]).toEqual(whole);
  for (const groups of [r.weeks, r.rooms, r.plans, r.series]) {
    expect(sum(groups.map((g) => g.held))).toBe(own.length);
    expect(sum(groups.map((g) => g.totalMs))).toBe(sum(own.map(({ h }) => h.totalMs)));
    expect(sum(groups.map((g) => g.moveMs))).toBe(whole?.workMs);
    expect(sum(groups.map((g) => g.formStops))).toBe(sum(own.map(({ h }) => h.pauses.filter((p) => p.reason === 'form' && p.interval?.movement === 'squat').length)));
  }
  expect(sum(own.flatMap(({ rows }) => rows.filter(({ interval }) => interval.kind === 'work').map((row) => row.real?.lengthMs ?? 0)))).toBeLessThanOrEqual(whole?.workMs ?? 0);
  expect(r.cuts.moves.every((m) => m.movement === 'squat')).toBe(true);
  expect(r.choices.movements).toContainEqual({ key: 'squat', name: 'Squat' });
  expect(await review('&movement=no-such')).toMatchObject({ held: 0, moves: [] });
  expect(sum((await all()).weeks.map((w) => w.moveMs))).toBe(0);
});

it('V306 a class belongs to the series that its plan is of, else to its room, day of the week and quarter of an hour', () => {
  const [events] = logs;
  const [start, ...rest] = events ?? [];
  if (start?.type !== 'started') throw new Error('no class');
  // A Monday, 18:14 in Berlin.
  const at = Date.parse('2026-05-04T16:14:00Z');
  const moved = (e: Event): Event => ({ ...e, at: (e.at + at - start.at) as Event['at'] });
  const seriesOf = (first: Event) => recordOf([first, ...rest].map(moved), {}, localTime('Europe/Berlin'), Number.MAX_SAFE_INTEGER)?.record.series;
  expect(seriesOf(start)).toBe(`${start.room} 1 18:15`);
  expect(seriesOf({ ...start, plan: { ...start.plan, series: { name: 'Spring legs', number: 3 } } })).toBe('* Spring legs');
});

it('V301 late from the start and later on the way come apart, and add up to the end', async () => {
  const { lateStart, grew } = await all();
  const held = reports();
  const said = logs.flatMap((events, k) => {
    const [first] = events;
    const h = held[k];
    if (first?.type !== 'started' || !h || first.freeAt === null || (first.plan.slot !== undefined && first.freeAt - first.at === first.plan.slot * 1_000)) return [];
    const late = Math.max(0, first.at + h.plannedMs - first.freeAt);
    return [{ late, grew: h.endAt - first.freeAt - late }];
  });
  expect(said.length).toBeGreaterThan(20);
  expect([lateStart.of, grew.of]).toEqual([said.length, said.length]);
  expect(lateStart.more).toBe(said.filter((s) => s.late > 60_000).length);
  expect(grew.more).toBe(said.filter((s) => s.grew > 60_000).length);
  expect(sum(lateStart.bins)).toBe(said.length);
  // Nearest rank, by hand: of 2, 3, 4, 5 and 10 minutes the middle is 4 and the ninetieth of a hundred 10.
  const min = 60_000;
  expect(spreadOf([2, 3, 4, 5, 10, 0, 40].map((m) => m * min), 0)).toMatchObject({ of: 7, more: 6, medianMs: 4 * min, ninetiethMs: 40 * min, bins: [1, 0, 1, 1, 1, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1] });
});

it('V302 a class in which Stop was pressed is in no figure and no export', async () => {
  const [events] = logs;
  if (!events) throw new Error('no class');
  const local = localTime('UTC');
  const kinds = Object.fromEntries(movements.map((m) => [m.id, { met: m.intensity.met, pattern: m.pattern }]));
  const [start, ...rest] = events;
  const at = (events.at(-1)?.at ?? 0) as Event['at'];
  if (!start) throw new Error('no start');
  expect(recordOf(events, kinds, local, at + 9e6)?.stopped).toBe(false);
  expect(recordOf([start, { type: 'stopped', at: start.at }, { type: 'came-back', at: start.at }, { type: 'carried-on', at: start.at, countInMs: 3_000 }, ...rest.filter((e) => e.type === 'ended')], kinds, local, at + 9e6)?.stopped).toBe(true);
  const stoppedData = newFolder();
  makeYears({ data: stoppedData, classes: 3, events: 10, seed: 2, until: '2026-11-20', rooms: ['garden'], different: 3 });
  const other = await serve(stoppedData);
  const screen = device(other.url, 'screen');
  const phone = device(other.url, 'phone', await pair(other.url, screen));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null });
  await phone.until((r) => r.session !== null, 'the class');
  const id = phone.room().session?.id ?? '';
  await phone.room().send({ type: 'stop' });
  await phone.room().send({ type: 'to-paused' });
  await phone.room().send({ type: 'end' });
  const from = async () => reviewSchema.parse((await inside(other.url).get('/api/review?from=2020-01-01&to=2099-01-01')).body);
  await expect.poll(async () => { const r = await from(); return [r.toRead, r.held, r.stopped]; }, { timeout: 20_000 }).toEqual([0, 3, 1]);
  const table = (await inside(other.url).get('/api/export.csv?from=2020-01-01&to=2099-01-01').expect(200)).text;
  expect(table.trim().split('\r\n')).toHaveLength(4);
  expect(table).not.toContain(id);
  await inside(other.url).get(`/api/classes/${id}/class.csv`).expect(409);
  await inside(other.url).get(`/api/classes/${id}`).expect(200);
  screen.close();
  phone.close();
  await other.close();
}, 60_000);

it('W303 an export holds what the reports say, as a table and as data, for one class and for a range', async () => {
  const h = reports()[0];
  if (!h) throw new Error('no class');
  const { id } = h.session;
  const text = (await inside(server.url).get(`/api/classes/${id}/class.csv`).expect(200).expect('content-type', /text\/csv; charset=utf-8/)).text;
  const read = Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true, dynamicTyping: false });
  expect(read.errors).toEqual([]);
  expect(read.data).toHaveLength(h.rows.length);
  h.rows.forEach((row, k) => {
    const cells = read.data[k] ?? {};
    expect([cells['planned length s'], cells['real start s'], cells['real length s'], cells['paused s']])
      .toEqual([row.planned ? String(row.planned.lengthMs / 1_000) : '', row.real ? String(row.real.startMs / 1_000) : '', row.real ? String(row.real.lengthMs / 1_000) : '', String(row.pausedMs / 1_000)]);
  });
  const one = (await inside(server.url).get(`/api/classes/${id}/class.json`).expect(200)).body;
  expect(one).toMatchObject({ class: id, lengthS: h.totalMs / 1_000, headCount: h.session.headCount });
  expect(Date.parse(one.started)).toBe(h.session.startedAt);
  expect(one.intervals).toHaveLength(h.rows.length);

  const range = Papa.parse<string[]>((await inside(server.url).get('/api/export.csv?from=2020-01-01').expect(200)).text, { skipEmptyLines: true });
  const json = (await inside(server.url).get('/api/export.json?from=2020-01-01').expect(200)).body as { columns: string[]; classes: (string | number | null)[][] };
  expect(range.data).toHaveLength(classes + 1);
  expect(range.data[0]).toEqual(json.columns);
  expect(range.data.slice(1)).toEqual(json.classes.map((row) => row.map((cell) => (cell === null ? '' : String(cell)))));
  const row = json.classes.find((r) => r[0] === id) ?? [];
  const cell = (name: string) => row[json.columns.indexOf(name)];
  expect([cell('length s'), cell('head count'), cell('pauses')]).toEqual([h.totalMs / 1_000, h.session.headCount, h.pauses.length]);
  await inside(server.url).get('/api/export.csv?from=2026-02-30').expect(400);
  await inside(server.url).get('/api/export.csv?from=2026-05-01&to=2026-04-01').expect(400);
});

it('V303 all rooms now, with their projected ends', async () => {
  const now = liveSchema.parse((await inside(server.url).get('/api/live').expect(200)).body);
  expect(now.rooms.map((r) => [r.id, r.name, r.class])).toEqual([['garden', 'Garden room', null], ['street', 'Street room', null]]);
});

it('V304 nothing of the review says who taught: no page, order or export can rank anybody', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'hallclock-test-'));
  const studio = await serve(folder);
  const screen = device(studio.url, 'screen');
  const phone = device(studio.url, 'phone', await pair(studio.url, screen));
  await phone.until(live, 'the phone');
  await phone.room().send({ type: 'start', plan: 'quarter-hour', freeAt: null, instructor: 'Zebedee' });
  await phone.until((r) => r.session !== null, 'the class');
  const id = phone.room().session?.id ?? '';
  await phone.room().send({ type: 'end' });
  await expect.poll(async () => (await inside(studio.url).get(`/api/classes/${id}/record`)).body.record?.id, { timeout: 20_000 }).toBe(id);
  const answers = ['/api/review?to=2099-01-01&from=2020-01-01', `/api/classes/${id}/record`, '/api/export.csv?to=2099-01-01&from=2020-01-01', '/api/export.json?to=2099-01-01&from=2020-01-01', `/api/classes/${id}/class.csv`, `/api/classes/${id}/class.json`];
  for (const path of answers) expect([path, (await inside(studio.url).get(path).expect(200)).text.includes('Zebedee')]).toEqual([path, false]);
  screen.close();
  phone.close();
  await studio.close();
}, 60_000);
