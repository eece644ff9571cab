/** Owns the exports as a spreadsheet opens them: every cell of them, where LibreOffice is installed. */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { type Cell, csv, guarded } from '../../server/review/csv.ts';
import { device, inside, live, newFolder, pair, serve } from '../server/serve.ts';
import { installed, open, type Opened } from './spreadsheet.ts';
import { makeYears } from './years.ts';

const names = [
  '=1+2', '=HYPERLINK("http://x.example","press me")', '+49 30', '-5', '@home', '=1+2";=1+2', 'Größe, Rücken & Füße', 'She said "up", then "down"', 'تمرين الصباح', '💪 Kraft 🧘‍♀️', '膝を大切に',
];
/** As a spreadsheet should take it: a number for a number, the guarded text for text, nothing for nothing; a line break is its own. */
const taken = (cell: Cell): Opened => {
  const value = guarded(cell);
  if (value === null || value === '') return { type: null, value: null, formula: false };
  return typeof value === 'number' ? { type: 'float', value, formula: false } : { type: 'string', value: String(value).replaceAll('\r\n', '\n'), formula: false };
};
const withoutEnds = (rows: readonly (readonly Opened[])[]): Opened[][] => rows.map((row) => row.slice(0, row.findLastIndex((c) => c.type !== null) + 1));

it('V321 a spreadsheet opens every cell of an export as it was: numbers as numbers, text as text, nothing is run', async (context) => {
  const version = installed();
  if (version === null) {
    const why = 'not run: LibreOffice is not installed (Debian: libreoffice-calc-nogui), so no export was opened in it';
    process.stdout.write(`${why}\n`);
    return context.skip(why);
  }
  const data = newFolder();
  makeYears({ data, classes: 12, events: 20, seed: 5, until: '2026-11-20', rooms: ['garden'], different: 6 });
  const server = await serve(data, { HALLCLOCK_TIME_ZONE: 'Europe/Berlin' });
  const screen = device(server.url, 'screen');
  const phone = device(server.url, 'phone', await pair(server.url, screen));
  await phone.until(live, 'the phone');
  const desk = inside(server.url);
  const { body: plan } = await desk.get('/api/plans/quarter-hour').expect(200);
  for (const [k, name] of names.entries()) {
    const id = `odd-${k}`;
    await desk.post('/api/plans').send({ ...plan, id, name }).expect(201);
    await phone.room().send({ type: 'start', plan: id, freeAt: null });
    await phone.until((r) => r.session?.plan.id === id, name);
    await phone.room().send({ type: 'head-count', n: k });
    await phone.room().send({ type: 'end' });
    await phone.until((r) => r.session?.over != null, `the end of ${name}`);
  }
  const range = '?from=2020-01-01&to=2099-01-01';
  const { columns, classes } = (await desk.get(`/api/export.json${range}`).expect(200)).body as { columns: string[]; classes: Cell[][] };
  expect(classes.map((row) => row[columns.indexOf('name')])).toEqual(expect.arrayContaining(names));
  const first = String(classes[0]?.[0]);
  const { intervals } = (await desk.get(`/api/classes/${first}/class.json`).expect(200)).body as { intervals: Record<string, Cell>[] };
  const heads = Object.keys(intervals[0] ?? {});
  const own: Cell[][] = [
    ['text', 'number', 'two\r\nlines', ' two  blanks ', 'a\ttab'], ['\ttab first', -2.5, '\r\nbreak first', 'a,b;c', '"'],
    ['ends with\r\n', 1e21, 0.1, '', 123_456_789.012], [null, 0, 'x', null, "it's"],
  ];
  const folder = mkdtempSync(join(tmpdir(), 'hallclock-export-'));
  const files = [['range', (await desk.get(`/api/export.csv${range}`)).text], ['class', (await desk.get(`/api/classes/${first}/class.csv`)).text], ['own', csv(own)]].map(([name, text]) => {
    const file = join(folder, `${name}.csv`);
    writeFileSync(file, text ?? '', 'utf8');
    return file;
  });
  const [ofRange = [], ofClass = [], ofOwn = []] = await open(files);
  expect(withoutEnds(ofRange)).toEqual(withoutEnds([columns, ...classes].map((row) => row.map(taken))));
  expect(withoutEnds(ofClass)).toEqual(withoutEnds([heads, ...intervals.map((i) => heads.map((h) => i[h] ?? null))].map((row) => row.map(taken))));
  expect(withoutEnds(ofOwn)).toEqual(withoutEnds(own.map((row) => row.map(taken))));
  // Instants stay the text of RFC 3339, and read back are the instant that they were.
  const started = columns.indexOf('started');
  for (const row of ofRange.slice(1)) expect(String(row[started]?.value)).toMatch(/^20\d\d-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}\+0[12]:00$/);
  process.stdout.write(`${version} opened ${ofRange.length + ofClass.length + ofOwn.length} rows, ${[...ofRange, ...ofClass, ...ofOwn].flat().length} cells\n`);
  screen.close();
  phone.close();
  await server.close();
}, 300_000);
