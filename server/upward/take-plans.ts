/**
 * Owns what becomes here of a plan that the chain changed: it is brought together with what was changed here meanwhile,
 * and where both changed the same it waits, as it is here, until somebody chose. What was put into the bin here stays there.
 */
import { type Chosen, mergePlans, same } from '../../shared/plan/merge.ts';
import { type Plan, planSchema } from '../../shared/plan/plan.ts';
import { z } from 'zod';
import type { KeptBody } from '../../shared/wire/plans.ts';
import type { Plans, Refused } from '../plans/keep.ts';
import { Hindered } from './hindered.ts';

export const planStandsSchema = z.strictObject({
  /** What both have last had in common; null where each made a plan of this name by itself. */
  base: planSchema.nullable(),
  /** As the chain has it. The same as `base` where nothing waits. */
  theirs: planSchema,
});
export type PlanStands = z.infer<typeof planStandsSchema>;

const isRefused = (got: object): got is Refused => 'status' in got && 'body' in got;
/** Null where the studio has it no longer: it is in the bin, or what came with Hallclock stands there again. */
export async function hereOf(plans: Plans, id: string): Promise<KeptBody | null> {
  const got = await plans.kept(id);
  return isRefused(got) ? null : got;
}

/** All that both changed; null where everything goes together. */
export function waits({ base, theirs }: PlanStands, here: KeptBody | null): { readonly base: Plan | null; readonly ours: Plan; readonly theirs: Plan } | null {
  if (!here?.own || same(base, theirs) || same(here.plan, theirs)) return null;
  return base && together(base, here.plan, theirs, {}) ? null : { base, ours: here.plan, theirs };
}

/** Both in one; null where it has to be chosen still. */
function together(base: Plan, ours: Plan, theirs: Plan, chosen: Chosen): Plan | null {
  const { plan, conflicts } = mergePlans(base, ours, theirs, chosen);
  const read = planSchema.safeParse(plan);
  return read.success && conflicts.every((c) => chosen[c.at] !== undefined) ? read.data : null;
}

/** Writes what is new here; what was there stays among the former versions, and so does the chain's. Rejects with Hindered. @returns false where somebody wrote meanwhile */
async function write(plans: Plans, here: KeptBody, plan: Plan, theirs: Plan): Promise<boolean> {
  if (same(here.plan, plan)) return true;
  const put = await plans.put(plan.id, { base: here.revision, plan, beside: theirs });
  if (!isRefused(put)) return true;
  if (put.status === 409) return false;
  throw new Hindered(put.body.error);
}

/** @param before null where it was never met @returns how it stands now; null where it could not be put in, with the reason said */
export async function takePlan(plans: Plans, theirs: Plan, before: PlanStands | null, say: (sentence: string) => void): Promise<PlanStands | null> {
  const here = await hereOf(plans, theirs.id);
  if (!here && !before) {
    const added = await plans.add(theirs);
    if (!isRefused(added)) return { base: theirs, theirs };
    if (added.status !== 409) throw new Hindered(added.body.error);
    say(`The plan “${theirs.name}” of the chain is not here: ${added.body.error}`);
    return null;
  }
  // In the bin here; taken out again it is brought together.
  if (!here || (before && !here.own)) return { base: before?.base ?? null, theirs };
  const base = before ? before.base : here.own ? null : here.plan;
  if (same(here.plan, theirs)) return { base: theirs, theirs };
  const both = base && together(base, here.plan, theirs, {});
  if (!both || !(await write(plans, here, both, theirs))) return { base, theirs };
  return { base: theirs, theirs };
}

/** The chain has it no longer: it goes into the bin, or stays as the studio's own where it was changed here. */
export async function dropPlan(plans: Plans, { base, theirs }: PlanStands): Promise<void> {
  const here = await hereOf(plans, theirs.id);
  if (!here?.own || !base || !same(here.plan, base)) return;
  const gone = await plans.away(theirs.id);
  if (isRefused(gone) && gone.status >= 500) throw new Hindered(gone.body.error);
}

/** Somebody chose. @returns null where it is not as they saw it, or something is not chosen */
export async function settlePlan(plans: Plans, before: PlanStands, seen: { readonly ours: Plan; readonly theirs: Plan; readonly chosen: Chosen }): Promise<PlanStands | null> {
  const { base, theirs } = before;
  const here = await hereOf(plans, theirs.id);
  if (!here || !same(here.plan, seen.ours) || !same(theirs, seen.theirs)) return null;
  const { whole } = seen.chosen;
  const plan = base ? together(base, here.plan, theirs, seen.chosen) : whole === undefined ? null : whole === 'mine' ? here.plan : theirs;
  return plan && await write(plans, here, plan, theirs) ? { base: theirs, theirs } : null;
}
