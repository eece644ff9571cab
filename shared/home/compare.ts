/** Owns what a plan that comes back from home is to the desk: nothing new, changed there, here or at both, new, or put away meanwhile. */
import { type Chosen, mergePlans, type Merged, same } from '../plan/merge.ts';
import type { Plan } from '../plan/plan.ts';
import type { HomePlan } from './file.ts';

export type Came =
  /** Both are as they were, or were changed alike. */
  | { readonly is: 'alike' }
  | { readonly is: 'changed here'; readonly here: Plan }
  | { readonly is: 'changed at home'; readonly here: Plan }
  | { readonly is: 'changed at both'; readonly here: Plan; readonly base: Plan }
  /** Begun at home. */
  | { readonly is: 'new' }
  /** Its place at the desk is another plan's, which was never taken home under that name. */
  | { readonly is: 'new beside'; readonly here: Plan }
  /** Changed at home, and put away at the desk. */
  | { readonly is: 'put away here' }
  /** Put into the bin at home; at the desk it stands. */
  | { readonly is: 'put away at home'; readonly here: Plan };

/**
 * The plan with the version that was brought back before in place of the one it was taken from: what stands here went on from
 * there. Null where `version` is none that was saved at home.
 * @param id its place here, which is another where it came in beside another plan; names of places are left aside
 * @param version one that this desk keeps of the plan in that place
 */
export function wentOn(home: HomePlan, id: string, version: Plan): HomePlan | null {
  const here = (plan: Plan): Plan => ({ ...plan, id });
  return home.saves.some((saved) => same(here(version), here(saved))) ? { ...home, now: here(home.now), base: here(version) } : null;
}

/** @param here the plan that stands at the desk under the same id, null where there is none */
export function compare({ now, base, gone }: HomePlan, here: Plan | null): Came {
  if (gone) return here === null || base === null ? { is: 'alike' } : { is: 'put away at home', here };
  if (here === null) return base === null ? { is: 'new' } : same(now, base) ? { is: 'alike' } : { is: 'put away here' };
  if (same(now, here)) return { is: 'alike' };
  if (base === null) return { is: 'new beside', here };
  if (same(now, base)) return { is: 'changed here', here };
  return same(here, base) ? { is: 'changed at home', here } : { is: 'changed at both', here, base };
}

/** Brought together: mine is what comes from home, theirs what stands at the desk. */
export const together = (came: Extract<Came, { is: 'changed at both' }>, { now }: HomePlan, chosen: Chosen): Merged => mergePlans(came.base, now, came.here, chosen);
