/**
 * Owns the timetable as iCalendar (RFC 5545): one event for each line of it. A class of every week is a rule of
 * recurrence at the time on the studio's wall, with the zone's own rules beside it (VTIMEZONE), its last day and its
 * days off, so that it is right across summer time for as long as it runs. The lines are ical-generator's, the rules
 * of zones timezones-ical-library's. Leaves alone what runs when (timetable.ts).
 */
import { TZDate } from '@date-fns/tz';
import ical, { ICalCalendarMethod, ICalEventRepeatingFreq } from 'ical-generator';
import { tzlib_get_ical_block as zoneBlock } from 'timezones-ical-library';
import { CALENDAR_DAYS } from '../../shared/limits.ts';
import { type Entry, occurrences } from '../../shared/plan/timetable.ts';
import { type ServerAt, serverAt } from '../../shared/time/units.ts';
import { dayOf, daysBetween, instantOf } from '../../shared/time/wall.ts';

interface Asked {
  readonly entries: readonly Entry[];
  readonly studio: string;
  readonly timeZone: string;
  readonly now: ServerAt;
  /** The name of a plan, and of a room. */
  readonly plan: (id: string) => string;
  readonly room: (id: string) => string;
}

/** The rules of a zone under its own name; null where the library has none, as for UTC, which needs none. */
function zoneRules(timeZone: string): string | null {
  const [block] = [zoneBlock(timeZone)].flat();
  return block?.includes(`\nTZID:${timeZone}\r\n`) ? block : null;
}

/** Days off that are days of it. */
const daysOff = (e: Entry): string[] => e.not.filter((d) => d >= e.day && (e.until === undefined || d <= e.until) && daysBetween(e.day, d) % 7 === 0);

/** @returns the text of the calendar, lines ended by CR LF */
export function calendarOf({ entries, studio, timeZone, now, plan, room }: Asked): string {
  const rules = zoneRules(timeZone);
  // Where a zone has no rules to give, each class of the next half year stands by itself, in UTC.
  const byRule = rules !== null || timeZone === 'UTC';
  const calendar = ical({
    name: studio, prodId: { company: 'Hallclock', product: 'timetable', language: 'EN' }, method: ICalCalendarMethod.PUBLISH,
    // The zone is the events', not the calendar's: its own stamps, and the last instants of rules, stay in UTC as they must.
    ...(rules === null ? {} : { timezone: { name: null, generator: () => rules } }),
  });
  const today = dayOf(now, timeZone);
  const wall = (at: ServerAt): Date => (rules === null ? new Date(at) : new TZDate(at, timeZone));
  const put = (entry: Entry, id: string, startAt: ServerAt, repeating?: { until?: Date; exclude?: Date[] }): void => {
    calendar.createEvent({
      id, stamp: new Date(now), start: wall(startAt), end: wall(serverAt(startAt + entry.minutes * 60_000)),
      summary: plan(entry.plan), location: `${room(entry.room)}, ${studio}`,
      ...(rules === null ? {} : { timezone: timeZone }),
      ...(repeating ? { repeating: { freq: ICalEventRepeatingFreq.WEEKLY, ...repeating } } : {}),
    });
  };
  for (const entry of byRule ? entries.filter((e) => e.weekly) : []) {
    const { day, until, at } = entry;
    if (until !== undefined && until < today) continue;
    const exclude = daysOff(entry).map((d) => wall(instantOf(d, at, timeZone)));
    put(entry, `${entry.id}@hallclock`, instantOf(day, at, timeZone), {
      ...(until === undefined ? {} : { until: new Date(instantOf(until, at, timeZone)) }),
      // A list with nothing in it would be written as one that cannot be read.
      ...(exclude.length === 0 ? {} : { exclude }),
    });
  }
  for (const { entry, day, startAt } of occurrences(byRule ? entries.filter((e) => !e.weekly) : entries, today, CALENDAR_DAYS, timeZone)) put(entry, `${entry.id}.${day}@hallclock`, startAt);
  return calendar.toString();
}
