/** Owns running many stories one after another, and what is said of them at the end. */
import { chainStoryOf } from './chain-story.ts';
import { shortest } from './shrink.ts';
import { storyOf } from './story.ts';
import { tellStory } from './tell.ts';
import type { Failure } from './truth.ts';
import { run } from './world.ts';

/** How often a screen may be farther off than it claims: the bound is one of likelihood (shared/time/envelope.ts). */
const OUTSIDE_MOST = 0.001;

export interface Simulated {
  readonly classes: number;
  readonly failure: Failure | null;
  readonly report: string;
}

/** Each class has a seed of its own, counted up from the first, so that one class can be held again alone. */
export async function simulate(seed: number, classes: number, done: (count: number) => void = () => {}, servers: 1 | 2 = 1): Promise<Simulated> {
  const total = { happenings: 0, acknowledged: 0, refused: 0, unanswered: 0, commits: 0, looks: 0, outside: 0, twice: 0, boundMs: 0, boundLooks: 0, worstMs: 0 };
  for (let k = 0; k < classes; k += 1) {
    const story = servers === 2 ? chainStoryOf(seed + k) : storyOf(seed + k);
    const outcome = await run(story);
    if (outcome.failure) {
      const short = await shortest(story, outcome.failure);
      const failure = short.outcome.failure ?? outcome.failure;
      const again = `npm run simulate -- --classes 1 --seed ${seed + k}${servers === 2 ? ' --servers 2' : ''}`;
      return { classes: k + 1, failure, report: `${tellStory(short.story, short.outcome, story.steps.length)}\nAgain: ${again}` };
    }
    total.happenings += outcome.happenings;
    for (const key of ['acknowledged', 'refused', 'unanswered', 'commits', 'looks', 'outside', 'twice'] as const) total[key] += outcome.counts[key];
    total.boundMs += outcome.bounds.boundMs;
    total.boundLooks += outcome.bounds.looks;
    total.worstMs = Math.max(total.worstMs, outcome.bounds.worstMs);
    done(k + 1);
  }
  const t = total;
  const often = t.outside > t.looks * OUTSIDE_MOST;
  const failure = often ? { rule: 'O40', at: 0, sentence: `${t.outside} of ${t.looks} looks fell outside the bound that the screen claimed` } : null;
  return {
    classes,
    failure,
    report: [
      `Seeds ${seed} to ${seed + classes - 1}: ${failure?.sentence ?? 'everything held'}.`,
      `${t.happenings} happenings, ${t.commits} commits; presses: ${t.acknowledged} acknowledged, ${t.refused} refused, ${t.unanswered} without an answer; ${t.twice} arrived twice.`,
      `${t.looks} looks at screens connected for 2 s, ${t.outside} outside the bound they claimed; it was ${(t.boundMs / Math.max(1, t.boundLooks)).toFixed(2)} ms on average; worst true error ${t.worstMs.toFixed(2)} ms.`,
    ].join('\n'),
  };
}
