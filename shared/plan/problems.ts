/** Owns why a plan that is written down properly still cannot run. Advice is the coach's. */
import { CLASS_MOST_S, INTERVALS_MAX } from '../limits.ts';
import { compile } from './compile.ts';
import type { FactsOf } from './facts.ts';
import type { Plan } from './plan.ts';

export interface Problem {
  /** Where in the plan, as a path. */
  readonly path: readonly (string | number)[];
  readonly sentence: string;
}

/** At most the number of movements and one; empty where the plan can run. */
export function problemsOf(plan: Plan, facts: FactsOf): Problem[] {
  const missing = plan.sections.flatMap((section, s) =>
    section.items.flatMap((item, i) => (Object.hasOwn(facts, item.movement) ? [] : [{
      path: ['sections', s, 'items', i, 'movement'],
      sentence: `the movement "${item.movement}" is not in the library (section ${s + 1}, movement ${i + 1}).`,
    }])));
  if (missing.length > 0) return missing;
  const { intervals } = compile(plan, facts);
  if (intervals.length > INTERVALS_MAX) {
    return [{ path: ['sections'], sentence: `it has ${intervals.length} intervals; ${INTERVALS_MAX} is the most.` }];
  }
  const lengthS = intervals.reduce((sum, i) => sum + i.lengthMs, 0) / 1_000;
  if (lengthS > CLASS_MOST_S) {
    return [{ path: ['sections'], sentence: `it is ${Math.round(lengthS / 60)} minutes long; ${CLASS_MOST_S / 60} is the most.` }];
  }
  return [];
}
