/**
 * Owns the timetable as iCalendar (RFC 5545): one event for each class of the next half
 * year, in UTC, so that it is right across summer time and needs no table of zones. The
 * lines are ical-generator's. Leaves alone what runs when (timetable.ts).
 */
import ical, { ICalCalendarMethod } from 'ical-generator';
import { CALENDAR_DAYS } from '../../shared/limits.ts';
import { type Entry, occurrences } from '../../shared/plan/timetable.ts';
import type { ServerAt } from '../../shared/time/units.ts';
import { dayOf } from '../../shared/time/wall.ts';

interface Asked {
  readonly entries: readonly Entry[];
  readonly studio: string;
  readonly timeZone: string;
  readonly now: ServerAt;
  /** The name of a plan, and of a room. */
  readonly plan: (id: string) => string;
  readonly room: (id: string) => string;
}

/** @returns the text of the calendar, lines ended by CR LF */
export function calendarOf({ entries, studio, timeZone, now, plan, room }: Asked): string {
  const calendar = ical({ name: studio, prodId: { company: 'Hallclock', product: 'timetable', language: 'EN' }, method: ICalCalendarMethod.PUBLISH });
  for (const { entry, day, startAt, endAt } of occurrences(entries, dayOf(now, timeZone), CALENDAR_DAYS, timeZone)) {
    calendar.createEvent({
      id: `${entry.id}.${day}@hallclock`, stamp: new Date(now), start: new Date(startAt), end: new Date(endAt),
      summary: plan(entry.plan), location: `${room(entry.room)}, ${studio}`,
    });
  }
  return calendar.toString();
}
