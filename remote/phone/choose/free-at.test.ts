import { expect, it } from 'vitest';
import { serverAt } from '../../../shared/time/units.ts';
import { nextTime } from './free-at.ts';

const at = (iso: string) => serverAt(Date.parse(iso));

it('reads a time of day as the next one on the clock of the studio', () => {
  expect(nextTime('18:45', 'Europe/Berlin', at('2026-05-04T16:00:30Z'))).toBe(at('2026-05-04T16:45:00Z'));
  expect(nextTime('07:00', 'Europe/Berlin', at('2026-05-04T16:00:30Z'))).toBe(at('2026-05-05T05:00:00Z'));
  expect(nextTime('18:00', 'Europe/Berlin', at('2026-05-04T16:00:30Z'))).toBe(at('2026-05-05T16:00:00Z'));
  expect(nextTime('06:15', 'Asia/Kathmandu', at('2026-05-04T00:00:00Z'))).toBe(at('2026-05-04T00:30:00Z'));
});

it('still means the clock on the wall in the night in which the clocks change', () => {
  // Central European clocks went forward at 01:00 UTC on 29 March 2026, back on 25 October 2026.
  expect(nextTime('07:00', 'Europe/Berlin', at('2026-03-28T22:00:00Z'))).toBe(at('2026-03-29T05:00:00Z'));
  expect(nextTime('07:00', 'Europe/Berlin', at('2026-10-24T22:00:00Z'))).toBe(at('2026-10-25T06:00:00Z'));
});
