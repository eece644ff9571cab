/** Holds the timetable as iCalendar, against another library and RFC 5545. */
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { calendarOf } from '../../server/plans/calendar.ts';
import { entrySchema, occurrences } from '../../shared/plan/timetable.ts';
import { serverAt } from '../../shared/time/units.ts';

const at = (iso: string) => serverAt(Date.parse(iso));
const entry = (more: object = {}) => entrySchema.parse({ id: 'wed', plan: 'first-steps', room: 'garden', day: '2026-11-25', at: '18:30', minutes: 45, weekly: true, ...more });
const BERLIN = 'Europe/Berlin';

/** The events of a calendar as another library reads them, with the zones that the calendar itself brings. */
function events(text: string) {
  const calendar = new ICAL.Component(ICAL.parse(text));
  for (const zone of calendar.getAllSubcomponents('vtimezone')) ICAL.TimezoneService.register(zone);
  return calendar.getAllSubcomponents('vevent').map((c) => new ICAL.Event(c));
}
/** The first sixty instants that the library works out of an event. */
function instants(event: InstanceType<typeof ICAL.Event>): string[] {
  if (!event.isRecurring()) return [event.startDate.toJSDate().toISOString()];
  const all = event.iterator();
  const out: string[] = [];
  for (let next = all.next(); next && out.length < 60; next = all.next()) out.push(next.toJSDate().toISOString());
  return out;
}

describe('the calendar', () => {
  const text = calendarOf({
    entries: [entry({ until: '2026-12-09' })], studio: 'Quince Yard; the long, long name of a studio that must be folded', timeZone: BERLIN, now: at('2026-11-25T10:00:00Z'),
    plan: () => 'Squats, planks; and \\ more\nsecond line: 40/20', room: () => 'Garden room',
  });
  it('P303 another library (ical.js) reads each class at its instant, with its words', () => {
    const read = events(text);
    expect(read.map((e) => [...instants(e)])).toEqual([['2026-11-25T17:30:00.000Z', '2026-12-02T17:30:00.000Z', '2026-12-09T17:30:00.000Z']]);
    expect(read[0]?.duration.toSeconds()).toBe(45 * 60);
    expect(read[0]?.summary).toBe('Squats, planks; and \\ more\nsecond line: 40/20');
  });
  it('P337 a class of every week is one event with a rule: the same instants as the timetable has, over summer time and back, without its days off', () => {
    const lines = [
      entry({ id: 'always', day: '2026-01-07' }), entry({ id: 'ends', day: '2026-03-04', at: '07:15', until: '2026-11-04', not: ['2026-04-01', '2026-10-28', '2026-04-02', '2027-01-06'] }),
      entry({ id: 'once', day: '2026-12-24', weekly: false }), entry({ id: 'over', day: '2025-01-01', until: '2025-12-31' }),
    ];
    for (const timeZone of [BERLIN, 'America/New_York', 'Australia/Lord_Howe', 'Asia/Kathmandu', 'UTC']) {
      const ours = calendarOf({ entries: lines, studio: 'S', timeZone, now: at('2026-11-01T10:00:00Z'), plan: (id) => id, room: (id) => id });
      const read = events(ours);
      expect([timeZone, read.map((e) => e.uid)]).toEqual([timeZone, ['always@hallclock', 'ends@hallclock', 'once.2026-12-24@hallclock']]);
      for (const e of read) {
        const line = lines.filter((l) => e.uid.startsWith(l.id));
        expect([timeZone, e.uid, instants(e)]).toEqual([timeZone, e.uid, occurrences(line, '2026-01-01', 500, timeZone).slice(0, 60).map((o) => new Date(o.startAt).toISOString())]);
      }
      const unfolded = ours.replace(/\r\n[ \t]/g, '');
      // RFC 5545: a last instant (3.3.10) and a stamp (3.8.7.2) are in UTC; a local start names its zone (3.3.5).
      expect(unfolded).toMatch(/RRULE:FREQ=WEEKLY;UNTIL=\d{8}T\d{6}Z\r\n/);
      expect(unfolded).toMatch(/DTSTAMP:20261101T100000Z/);
      if (timeZone === BERLIN) for (const line of ['DTSTART;TZID=Europe/Berlin:20260304T071500', 'EXDATE;TZID=Europe/Berlin:20260401T071500,20261028T071500', 'BEGIN:VTIMEZONE']) expect(unfolded).toContain(`${line}\r\n`);
    }
  });
  it('P303 lines end in CR LF and are at most 75 octets, text is escaped and a colon is not (RFC 5545 sections 3.1 and 3.3.11)', () => {
    const lines = text.split('\r\n');
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(Math.max(...lines.map((l) => Buffer.byteLength(l)))).toBeLessThanOrEqual(75);
    const unfolded = text.replace(/\r\n[ \t]/g, '');
    expect(unfolded).toContain('SUMMARY:Squats\\, planks\\; and \\\\ more\\nsecond line: 40/20\r\n');
    // Section 3.4 has the least that a calendar holds; section 3.3.5 the form of an instant on a wall, with its zone.
    for (const line of ['BEGIN:VCALENDAR', 'VERSION:2.0', 'BEGIN:VEVENT', 'DTSTART;TZID=Europe/Berlin:20261125T183000', 'DTEND;TZID=Europe/Berlin:20261125T191500', 'DTSTAMP:20261125T100000Z', 'END:VEVENT', 'END:VCALENDAR']) expect(lines).toContain(line);
    expect(unfolded).toMatch(/\r\nPRODID:/);
  });
  it('P303 the exact strings of RFC 5545: folding, escaping, and the smallest calendar', () => {
    const property = (line: string) => new ICAL.Component(ICAL.parse(`BEGIN:VCALENDAR\r\n${line}\r\nEND:VCALENDAR`)).getAllProperties()[0]?.getFirstValue();
    expect(property('DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.')).toBe('This is a long description that exists on a long line.');
    expect(property('DESCRIPTION:Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.')).toBe('Project XYZ Final Review\nConference Room - 3B\nCome Prepared.');
    const ours = calendarOf({ entries: [entry({ weekly: false })], studio: 'S', timeZone: 'UTC', now: at('2026-11-25T10:00:00Z'), plan: () => 'Project XYZ Final Review\nConference Room - 3B\nCome Prepared.', room: () => 'R' });
    expect(ours.replace(/\r\n[ \t]/g, '')).toContain('SUMMARY:Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.\r\n');
  });
});
