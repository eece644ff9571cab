/** Owns reading a time of day ("18:45") as an instant: the next one in the studio's own time zone. */
import { clockTime } from '../../../shared/view/words.ts';
import { after, type ServerAt, serverAt } from '../../../shared/time/units.ts';

const MINUTE_MS = 60_000;
const DAY_MIN = 24 * 60;

const minutesOf = (hhmm: string): number => Number(hhmm.slice(0, 2)) * 60 + Number(hhmm.slice(3, 5));

/**
 * The next instant after now at which the studio's clock says hhmm. Where the
 * clocks change in between, it is moved by what they changed.
 */
export function nextTime(hhmm: string, timeZone: string, now: ServerAt): ServerAt {
  const minute = serverAt(Math.floor(now / MINUTE_MS) * MINUTE_MS);
  const ahead = (minutesOf(hhmm) - minutesOf(clockTime(minute, timeZone)) + DAY_MIN) % DAY_MIN || DAY_MIN;
  const guess = after(minute, ahead * MINUTE_MS);
  const off = minutesOf(hhmm) - minutesOf(clockTime(guess, timeZone));
  const wrapped = ((off + DAY_MIN / 2 + DAY_MIN) % DAY_MIN) - DAY_MIN / 2;
  return after(guess, wrapped * MINUTE_MS);
}
