import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { diskFiles } from './files/files.ts';
import { openLibrary } from './library.ts';

let folder = '';
const media = () => join(folder, 'media');
const data = () => join(folder, 'data');
const write = (path: string, text: string) => writeFileSync(join(folder, path), text);

const movement = (id: string) => JSON.stringify({
  format: 1, id, name: 'Squat', sides: 'together', start: 'standing', end: 'standing', impact: 'none', pattern: 'squat', areas: ['hips'],
  suits: ['main'], leastS: 10, setUp: 'Stand.', action: 'Sit and stand.', cues: ['Heels down', 'Chest up'], lookFor: ['Knees in'],
  option: { words: 'Less deep' }, build: { words: 'Slower' }, intensity: { code: '02022', met: 3.8 },
});
const plan = (id: string, name: string, work: number, ...movements: string[]) => JSON.stringify({
  format: 1, id, name, sections: [{ id: 'main', kind: 'main', work, rest: 20, items: movements.map((m) => ({ movement: m })) }],
});

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'hallclock-library-'));
  for (const path of ['media/plans', 'media/movements', 'data/plans', 'data/movements']) mkdirSync(join(folder, path), { recursive: true });
  write('media/movements/squat.json', movement('squat'));
  write('media/plans/good.json', plan('good', 'Good', 40, 'squat'));
});
afterEach(() => { rmSync(folder, { recursive: true, force: true }); });

it('K12 a broken file is named with the place in it and what is wrong, and the rest still works', async () => {
  write('media/plans/short.json', plan('short', 'Short', 0.5, 'squat'));
  write('data/plans/comma.json', '{\n  "format": 1,\n  "id": "comma",,\n}');
  write('data/plans/named.json', plan('other', 'Other', 40, 'squat'));
  write('data/movements/leap.json', '{}');
  const library = openLibrary(media(), diskFiles(data()));
  const { plans, broken } = await library.plans();
  expect(plans.map((p) => [p.id, p.problem])).toEqual([['good', null]]);
  expect(broken).toEqual([
    { file: 'comma.json', path: 'line 3', error: expect.stringMatching(/^comma\.json is no JSON; it goes wrong at line 3: /) },
    { file: 'named.json', path: 'id', error: 'named.json, at id: it is "other", and the file should be called other.json.' },
    { file: 'short.json', path: 'sections[0].work', error: 'short.json, at sections[0].work: at least 1 s.' },
  ]);
  expect(await library.plan('short')).toEqual({ broken: 'short.json, at sections[0].work: at least 1 s.' });
  expect(await library.movements()).toMatchObject({ movements: [{ id: 'squat' }], broken: [{ file: 'leap.json' }] });
});

it('K12 a plan with a movement that is not there says so, and can run as soon as it is', async () => {
  write('data/plans/new.json', plan('new', 'New', 40, 'squat', 'leap'));
  const library = openLibrary(media(), diskFiles(data()));
  expect((await library.plans()).plans[1]?.problem).toContain('"leap"');
  write('data/movements/leap.json', movement('leap'));
  expect((await library.plans()).plans[1]?.problem).toBeNull();
  expect(await library.plan('new')).toMatchObject({ facts: { squat: { name: 'Squat' }, leap: { name: 'Squat' } } });
});

it("K12 the studio's file takes the place of ours of the same name; without any files there is an empty library", async () => {
  write('data/plans/good.json', plan('good', 'Better', 40, 'squat'));
  expect((await openLibrary(media(), diskFiles(data())).plans()).plans.map((p) => p.name)).toEqual(['Better']);
  const nothing = openLibrary(join(folder, 'no'), diskFiles(join(folder, 'none')));
  expect([await nothing.plans(), await nothing.movements(), await nothing.plan('good')]).toEqual([
    { plans: [], broken: [] }, { movements: [], broken: [] }, null,
  ]);
});
