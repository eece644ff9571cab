/** Owns that the time since a stop reads as minutes and seconds. */
import { expect, it } from 'vitest';
import { sinceWords } from './since.ts';

it('R131 the time since the stop is minutes and seconds, from an hour on with hours', () => {
  expect([-5, 0, 999, 1_000, 59_999, 60_000, 221_000, 3_729_000].map(sinceWords))
    .toEqual(['0:00', '0:00', '0:00', '0:01', '0:59', '1:00', '3:41', '1:02:09']);
});
