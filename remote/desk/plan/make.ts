/** Owns making a plan from the desk: a free id, kept at once, and the way to where it is written. */
import type { Plan } from '../../../shared/plan/plan.ts';
import { keptSchema } from '../../../shared/wire/plans.ts';
import { go } from '../../common/at-home.ts';
import { idFor } from './draft.ts';
import { send } from './saving.ts';

/** Where plans are taken home and brought back; with one plan chosen, or all. */
export const homeAt = (id?: string): string => `/desk/home${id === undefined ? '' : `?plan=${encodeURIComponent(id)}`}`;
export const editAt = (id: string): string => `/desk/plans/${encodeURIComponent(id)}`;

/** The sentence of a refusal, and whether this browser may only look; null when the page is on its way. */
export async function makePlan(plan: Plan, taken: readonly string[]): Promise<{ readonly problem: string; readonly pair: boolean } | null> {
  const got = await send('POST', '/api/plans', keptSchema, { ...plan, id: idFor(plan.name, taken) });
  if (!('ok' in got)) return { problem: got.problem, pair: got.status === 403 };
  go(editAt(got.ok.plan.id));
  return null;
}
