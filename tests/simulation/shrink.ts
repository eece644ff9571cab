/** Owns looking for the shortest story that still breaks the same rule: steps are cut, in ever smaller pieces. */
import type { Step, Story } from './story.ts';
import type { Failure } from './truth.ts';
import { type Outcome, run } from './world.ts';

/** Tries before the shortest so far has to do. */
const TRIES = 250;

export async function shortest(story: Story, failure: Failure): Promise<{ readonly story: Story; readonly outcome: Outcome }> {
  let best = { story, outcome: await run(story) };
  let tries = 0;
  const attempt = async (steps: readonly Step[]): Promise<boolean> => {
    tries += 1;
    const shorter = { ...story, steps };
    const outcome = await run(shorter);
    if (outcome.failure?.rule !== failure.rule) return false;
    // Nothing after the failure can have led to it.
    const until = outcome.failure.at;
    best = { story: { ...shorter, steps: steps.filter((s) => s.at <= until) }, outcome };
    return true;
  };
  await attempt(story.steps.filter((s) => s.at <= failure.at));
  for (let size = Math.ceil(best.story.steps.length / 2); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 2)) {
    for (let from = 0; from < best.story.steps.length && tries < TRIES;) {
      const { steps } = best.story;
      if (!(await attempt([...steps.slice(0, from), ...steps.slice(from + size)]))) from += size;
    }
  }
  return best;
}
