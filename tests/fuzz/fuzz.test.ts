/** Owns a short run of the fuzz with every change; `npm run fuzz` is the long one. */
import { expect, it } from 'vitest';
import { SEED } from '../seed.ts';
import { fuzz } from './fuzz.ts';

it('R44 hostile messages and requests: the class stays at its second, its log as it was pressed, and nothing leaks', async () => {
  const result = await fuzz(6_000, 1_500, SEED);
  expect(result.problems, `seed ${SEED}`).toEqual([]);
  expect([result.sent >= 6_000, result.http.asked]).toEqual([true, 1_500]);
});
