/**
 * Holds the seeds that once found something, each with what it found. A seed's story changes when
 * the simulated connection follows the real one in something new; what was found has a test of its own as well.
 */
import { expect, it } from 'vitest';
import { simulate } from './simulate.ts';

const found: readonly (readonly [number, string])[] = [
  [1, 'the claimed bound left out that the shown time is a whole millisecond'],
  [16, 'an end that arrived twice, the second time after the next class had started, was refused the second time'],
  [20_077, 'a go that arrived twice, the same'],
  [244, 'news that came in one turn with the answer before it was undone by that answer'],
  [20_184, 'a refused start, overtaken by the start on another phone, took that class away again'],
  [5_857, 'after a short sleep, a sample slower than the sleep had been was taken for proof that there was none'],
  [204_973, 'after a power cut the server lived 378 ms in the past, and a slow sample of its new clock agreed with the old samples'],
  [90_885, 'a pause on its way to the disk, arriving again after a stop was pressed, was refused by the stop and acted all the same'],
];

it.each(found)('O40 W40 K41 seed %i: %s', async (seed) => {
  const { failure, report } = await simulate(seed, 1);
  expect(failure, report).toBeNull();
});
