/** Owns how the review says numbers: lengths, parts, days, "of". */
import { lengthWords } from '../../../shared/view/words.ts';

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;

export const count = (n: number, one: string, more: string): string => `${n.toLocaleString('en-GB')} ${n === 1 ? one : more}`;
export const classes = (n: number): string => count(n, 'class', 'classes');
export const hours = (ms: number): string => (ms < HOUR_MS ? lengthWords(Math.round(ms / 60_000) * 60_000) : `${(ms / HOUR_MS).toLocaleString('en-GB', { maximumFractionDigits: ms < 10 * HOUR_MS ? 1 : 0 })} h`);
/** To ten seconds from a minute on: nobody plans in thousandths. */
export const about = (ms: number): string => lengthWords(ms < 60_000 ? Math.round(ms / 1_000) * 1_000 : Math.round(ms / 10_000) * 10_000);
export const part = (some: number, of: number): string => {
  if (of <= 0) return '0 %';
  const percent = (some / of) * 100;
  return percent > 0 && percent < 1 ? 'less than 1 %' : `${Math.round(percent)} %`;
};
export const number = (n: number, digits = 1): string => n.toLocaleString('en-GB', { maximumFractionDigits: digits });

const dayFormat = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', timeZone: 'UTC' });
const yearFormat = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' });
const monthFormat = new Intl.DateTimeFormat('en-GB', { month: 'short', year: 'numeric', timeZone: 'UTC' });
/** Days are numbered since 1970, in the studio's own time. */
export const shortDay = (day: number): string => dayFormat.format(day * DAY_MS);
export const longDay = (day: number): string => yearFormat.format(day * DAY_MS);
export const monthOf = (day: number): string => monthFormat.format(day * DAY_MS);
export const dateOf = (day: number): string => new Date(day * DAY_MS).toISOString().slice(0, 10);

/** A move's name within a sentence: "squat". */
export const inText = (name: string): string => name.charAt(0).toLowerCase() + name.slice(1);

/** "Squat", "Squat and Plank", "Squat, Plank and Push-up". */
export const list = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;
