/**
 * Owns tables as text: RFC 4180 by csv-stringify, UTF-8, numbers left numbers. Text that a
 * spreadsheet would take for a formula gets an apostrophe before it (OWASP, CSV injection).
 */
import { stringify } from 'csv-stringify/sync';

export type Cell = string | number | boolean | null;

/** First characters that a spreadsheet may run: = + - @, tab, carriage return, line feed. */
const RISKY = /^[=+\-@\t\r\n]/;
export const guarded = (cell: Cell): Cell => (typeof cell === 'string' && RISKY.test(cell) ? `'${cell}` : cell);

const plain = (cell: Cell): string | number => (cell === null ? '' : typeof cell === 'boolean' ? (cell ? 'yes' : 'no') : cell);

/** Records with CRLF at the end of each; empty where there is nothing. */
export const csv = (rows: readonly (readonly Cell[])[]): string =>
  stringify(rows.map((row) => row.map((cell) => plain(guarded(cell)))), { record_delimiter: '\r\n' });

const offsets = new Map<string, Intl.DateTimeFormat>();
/** Making one is dear, and an export asks forty thousand times. */
function offsetFormat(timeZone: string): Intl.DateTimeFormat {
  const known = offsets.get(timeZone) ?? new Intl.DateTimeFormat('en-GB', { timeZone, timeZoneName: 'longOffset' });
  offsets.set(timeZone, known);
  return known;
}

/** "2026-05-04T18:15:00.000+02:00": an instant as RFC 3339 has it, with the studio's own offset. */
export function rfc3339(at: number, timeZone: string): string {
  const name = offsetFormat(timeZone).formatToParts(at).find((p) => p.type === 'timeZoneName')?.value ?? '';
  const [, sign = '+', hours = '00', minutes = '00'] = /^GMT([+-])(\d{2}):(\d{2})/.exec(name) ?? [];
  const offsetMs = (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes)) * 60_000;
  const wall = new Date(at + offsetMs).toISOString().slice(0, -1);
  return offsetMs === 0 ? `${wall}Z` : `${wall}${sign}${hours}:${minutes}`;
}
