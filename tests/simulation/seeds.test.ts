/** Holds the seeds that once found something, each with what it found. */
import { expect, it } from 'vitest';
import { storyOf } from './story.ts';
import { run } from './world.ts';

const found: readonly (readonly [number, string])[] = [
  [1, 'the claimed bound left out that the shown time is a whole millisecond'],
  [102, 'a go that arrived twice, the second time after the next class had started, was refused the second time'],
  [517, 'news that came in one turn with the answer before it was undone by that answer'],
  [800, 'a refused start, overtaken by the start on another phone, took that class away again'],
  [743, 'a page closed while its device slept'],
];

it.each(found)('O40 W40 K41 seed %i: %s', async (seed) => {
  const { failure } = await run(storyOf(seed));
  expect(failure).toBeNull();
});
