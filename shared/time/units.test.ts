import { expect, it } from 'vitest';
import { after, between, deviceAt, later, serverAt } from './units.ts';

it('T1 two kinds of time do not mix', () => {
  const s = serverAt(1_000);
  expect(between(s, after(s, 250))).toBe(250);
  expect(later(s, serverAt(900))).toBe(s);
  // @ts-expect-error server time and device time cannot be subtracted from each other
  expect(between(s, deviceAt(1_250))).toBe(250);
});
