/**
 * Owns asking every rule of the coach about a plan. A finding is advice in a
 * sentence; what a person's own midwife, doctor or physiotherapist says comes first.
 */
import { FINDINGS_MAX } from '../limits.ts';
import type { Library } from '../movement/movement.ts';
import type { Plan } from '../plan/plan.ts';
import { type Finding, grades } from './finding.ts';
import type { Group } from './groups.ts';
import type { Rule } from './rule.ts';
import { effort } from './rules/effort.ts';
import { groupRules } from './rules/groups.ts';
import { places } from './rules/places.ts';
import { runs } from './rules/runs.ts';
import { shape } from './rules/shape.ts';
import { sides } from './rules/sides.ts';
import { study } from './study.ts';

/** In the order in which findings of one grade are told: what can hurt first. */
const all: readonly Rule[] = [...runs.slice(0, 4), ...groupRules.slice(0, -1), ...sides, ...shape, ...effort, ...places, ...runs.slice(4), ...groupRules.slice(-1)];

export interface RuleWords { readonly id: string; readonly grade: Finding['grade']; readonly reason: string; readonly source: string; readonly waivable: boolean }
/** Every rule, for a page that lists them. */
export const rulesList: readonly RuleWords[] = all.map(({ id, grade, reason, source }) => ({ id, grade, reason, source, waivable: grade !== 'cannot run' }));

/** What the coach has to say of a plan, worst first. Group (a label of the class) and slot (seconds) are the plan's own unless they are said. */
export function check(plan: Plan, library: Library, ask: { readonly group?: Group; readonly slotS?: number } = {}): Finding[] {
  const s = study(plan, library, ask);
  const findings = all.flatMap((rule) => rule.find(s).map(({ grade, ...found }): Finding => ({
    id: rule.id, grade: grade ?? rule.grade, reason: rule.reason, source: rule.source, waivable: rule.grade !== 'cannot run', ...found,
  })));
  return grades.flatMap((grade) => findings.filter((f) => f.grade === grade)).slice(0, FINDINGS_MAX);
}
