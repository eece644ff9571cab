/** Owns making a plan from the desk: a free id, kept at once, and the way to where it is written. */
import type { Plan } from '../../../shared/plan/plan.ts';
import { keptSchema } from '../../../shared/wire/plans.ts';
import { idFor } from './draft.ts';
import { send } from './saving.ts';

export const editAt = (id: string): string => `/desk/plans/${encodeURIComponent(id)}`;

/** The sentence of a refusal, and whether this browser may only look; null when the page is on its way. */
export async function makePlan(plan: Plan, taken: readonly string[]): Promise<{ readonly problem: string; readonly pair: boolean } | null> {
  const got = await send('POST', '/api/plans', keptSchema, { ...plan, id: idFor(plan.name, taken) });
  if (!('ok' in got)) return { problem: got.problem, pair: got.status === 403 };
  window.location.assign(editAt(got.ok.plan.id));
  return null;
}
