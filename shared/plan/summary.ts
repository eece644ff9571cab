/** Owns what a plan is in one line of a list: its length, its work, and what keeps it from running. */
import { compile } from './compile.ts';
import type { FactsOf } from './facts.ts';
import type { Plan } from './plan.ts';
import { problemsOf } from './problems.ts';
import { totals } from './totals.ts';

export function summaryOf(plan: Plan, facts: FactsOf) {
  const problem = problemsOf(plan, facts)[0]?.sentence ?? null;
  const sums = totals(compile(plan, facts).intervals);
  return { id: plan.id, name: plan.name, group: plan.group, sections: plan.sections.length, lengthMs: sums.lengthMs, workMs: sums.byKind.work, problem };
}
