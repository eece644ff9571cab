/**
 * Owns days and times of day in a time zone, as a timetable writes them. An instant is
 * server time; a day is "2026-11-25", a time of day "18:30". Leaves alone what happens then.
 */
import { type ServerAt, serverAt } from './units.ts';

const DAY_MS = 86_400_000;
const formats = new Map<string, Intl.DateTimeFormat>();

function format(timeZone: string): Intl.DateTimeFormat {
  const known = formats.get(timeZone);
  if (known) return known;
  const made = new Intl.DateTimeFormat('en-GB', { timeZone, hourCycle: 'h23', year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', second: '2-digit' });
  formats.set(timeZone, made);
  return made;
}

/** Milliseconds that the zone's clocks are ahead of UTC at an instant; whole seconds. */
function aheadMs(at: number, timeZone: string): number {
  const part = Object.fromEntries(format(timeZone).formatToParts(at).map((p) => [p.type, Number(p.value)]));
  const wall = Date.UTC(part.year ?? 0, (part.month ?? 1) - 1, part.day, part.hour, part.minute, part.second);
  return wall - Math.floor(at / 1_000) * 1_000;
}

/** The day in a zone at an instant. */
export const dayOf = (at: number, timeZone: string): string => new Date(at + aheadMs(at, timeZone)).toISOString().slice(0, 10);

/** Days on between two days. */
export const daysBetween = (from: string, to: string): number => Math.round((Date.parse(`${to}T00:00Z`) - Date.parse(`${from}T00:00Z`)) / DAY_MS);
export const dayAfter = (day: string, days: number): string => new Date(Date.parse(`${day}T00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);

/**
 * The instant at which a zone's clocks say this. Where they say it twice, the first; where
 * they leap over it, as much later as they leapt.
 */
export function instantOf(day: string, hhmm: string, timeZone: string): ServerAt {
  const wall = Date.parse(`${day}T${hhmm}:00Z`);
  const [a, b] = [aheadMs(wall - DAY_MS, timeZone), aheadMs(wall + DAY_MS, timeZone)];
  const says = (at: number): boolean => at + aheadMs(at, timeZone) === wall;
  const tries = [wall - Math.max(a, b), wall - Math.min(a, b)].filter(says);
  return serverAt(tries[0] ?? wall - a);
}
