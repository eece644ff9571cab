/** Owns tables as text, held to the standards' own vectors and read back by another library. */
import Papa from 'papaparse';
import { expect, it } from 'vitest';
import { csv, guarded, rfc3339 } from '../../server/review/csv.ts';

it('W300 tables are RFC 4180 and are read back by another library cell by cell', async () => {
  const rows = [['plain', 'with, comma', 'with "quotes"', 'two\r\nlines', 'Größe, 膝', ' spaces '], ['', 'a', 'b', 'c', 'd', 'e'], [1, -2.5, 0, 1e21, 0.1, 3]];
  const text = csv(rows);
  expect(text.endsWith('\r\n')).toBe(true);
  const read = Papa.parse<string[]>(text, { newline: '\r\n', skipEmptyLines: false });
  expect(read.errors).toEqual([]);
  expect(read.data.slice(0, -1)).toEqual(rows.map((row) => row.map(String)));
  // The vectors of RFC 4180 section 2.
  expect(csv([['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']])).toBe('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n');
  expect(csv([['aaa', 'b"bb', 'ccc'], ['aaa', 'b\r\nbb', 'ccc']])).toBe('aaa,"b""bb",ccc\r\naaa,"b\r\nbb",ccc\r\n');
});

it('W301 text that a spreadsheet would run is guarded, numbers stay numbers', () => {
  // The vectors of OWASP, CSV injection.
  expect(csv([['=1+2";=1+2']])).toBe('"\'=1+2"";=1+2"\r\n');
  expect(csv([['=1+2\'" ;,=1+2']])).toBe('"\'=1+2\'"" ;,=1+2"\r\n');
  for (const first of ['=', '+', '-', '@', '\t', '\r', '\n']) expect(guarded(`${first}cmd`)).toBe(`'${first}cmd`);
  expect([guarded(-5), guarded('5-'), guarded('a=b')]).toEqual([-5, '5-', 'a=b']);
  expect(csv([[-5, 'x']])).toBe('-5,x\r\n');
});

it('W302 instants are RFC 3339 in the studio\'s own time', () => {
  // The examples of RFC 3339 section 5.8 that a millisecond clock can tell.
  expect(Date.parse(rfc3339(Date.parse('1996-12-20T00:39:57Z'), 'America/Los_Angeles'))).toBe(Date.parse('1996-12-19T16:39:57-08:00'));
  expect(rfc3339(Date.parse('1996-12-20T00:39:57Z'), 'America/Los_Angeles')).toBe('1996-12-19T16:39:57.000-08:00');
  expect(rfc3339(Date.parse('1985-04-12T23:20:50.52Z'), 'UTC')).toBe('1985-04-12T23:20:50.520Z');
  expect(rfc3339(Date.parse('2026-07-01T10:00:00Z'), 'Asia/Kathmandu')).toBe('2026-07-01T15:45:00.000+05:45');
});
