/** Owns bringing one plan back: what stands here under its id, and sending what was decided. Leaves alone what it comes to (shared/home). */
import type { HomePlan } from '../../../shared/home/file.ts';
import { type Came, compare, together, wentOn } from '../../../shared/home/compare.ts';
import { type Chosen, settled } from '../../../shared/plan/merge.ts';
import { type Plan, planSchema } from '../../../shared/plan/plan.ts';
import { plansSchema } from '../../../shared/wire/http.ts';
import { binnedSchema, conflictSchema, type KeptBody, keptSchema, versionsSchema } from '../../../shared/wire/plans.ts';
import { idFor } from '../plan/draft.ts';
import { send } from '../plan/saving.ts';

export interface Row {
  readonly home: HomePlan;
  readonly came: Came;
  /** Of the plan that stands here. */
  readonly revision: string | null;
  readonly chosen: Chosen;
  readonly wanted: boolean;
  readonly done: { readonly says: string; readonly id: string | null } | null;
  readonly problem: string | null;
}

/** What is brought unless somebody says otherwise; what was put away by somebody is only offered. */
const wantedAtFirst: Record<Came['is'], boolean> = {
  alike: false, 'changed here': false, 'changed at home': true, 'changed at both': true, new: true, 'new beside': true, 'put away here': false, 'put away at home': false,
};
export const mayBring = ({ came, done }: Row): boolean => done === null && came.is !== 'alike' && came.is !== 'changed here';

async function standing(id: string): Promise<{ readonly kept: KeptBody | null } | { readonly failed: string }> {
  const got = await send('GET', `/api/plans/${encodeURIComponent(id)}/kept`, keptSchema);
  return 'ok' in got ? { kept: got.ok } : got.status === 404 ? { kept: null } : { failed: got.problem };
}

/** Versions looked through at most for one that was brought back before: those of the last days. */
const LOOKED_MOST = 60;
/** The plan as it went on from the newest version that this desk has from home; null where it has none. */
async function wentOnFrom(home: HomePlan, id: string): Promise<HomePlan | null> {
  const at = `/api/plans/${encodeURIComponent(id)}/versions`;
  const list = await send('GET', at, versionsSchema);
  const names = home.saves.map((p) => p.name);
  // Newest first and one after the other: it is mostly among the first.
  for (const { revision } of 'ok' in list ? list.ok.versions.filter((v) => names.includes(v.name)).slice(0, LOOKED_MOST) : []) {
    const got = await send('GET', `${at}/${revision}`, planSchema);
    const found = 'ok' in got ? wentOn(home, id, got.ok) : null;
    if (found) return found;
  }
  return null;
}

/** As it went on since it was brought back before; as it is where it never was. A plan begun at home may stand here beside another. */
async function goneOn(home: HomePlan): Promise<HomePlan> {
  if (home.saves.length === 0) return home;
  const found = await wentOnFrom(home, home.now.id);
  if (found || home.base !== null) return found ?? home;
  const known = await send('GET', '/api/plans', plansSchema);
  const names = new Set([home.now, ...home.saves].map((p) => idFor(p.name, [])));
  for (const { id } of 'ok' in known ? known.ok.plans : []) {
    const beside = names.has(id.replace(/-\d+$/, '')) ? await wentOnFrom(home, id) : null;
    if (beside) return beside;
  }
  return home;
}

export async function look(sent: HomePlan, before?: Row): Promise<Row | { readonly failed: string }> {
  const home = await goneOn(sent);
  const here = await standing(home.now.id);
  if ('failed' in here) return here;
  const came = compare(home, here.kept?.plan ?? null);
  return { home, came, revision: here.kept?.revision ?? null, chosen: before?.chosen ?? {}, wanted: before?.wanted ?? wantedAtFirst[came.is], done: null, problem: null };
}

/** The plan as it would stand here; null while something has to be chosen. */
export function outcome({ home, came, chosen }: Row): Plan | null {
  if (came.is !== 'changed at both') return home.now;
  const merged = together(came, home, chosen);
  return settled(merged.conflicts, chosen) ? merged.plan : null;
}

async function asNew(plan: Plan): Promise<ReturnType<typeof send<KeptBody>>> {
  const known = await send('GET', '/api/plans', plansSchema);
  if (!('ok' in known)) return known;
  const taken = known.ok.plans.map((p) => p.id);
  return send('POST', '/api/plans', keptSchema, { ...plan, id: taken.includes(plan.id) ? idFor(plan.name, taken) : plan.id });
}

/** The row as it is afterwards, and whether this browser may only look. */
export async function bring(row: Row): Promise<{ readonly row: Row; readonly pair: boolean }> {
  const { home, came, revision } = row;
  const plan = outcome(row);
  if (plan === null) return { row, pair: false };
  const over = (done: Row['done']) => ({ row: { ...row, done, problem: null }, pair: false });
  // Whoever may only look is asked for the digits once, for all plans.
  const not = (problem: string, status: number) => ({ row: { ...row, problem: status === 403 ? null : problem }, pair: status === 403 });
  const at = `/api/plans/${encodeURIComponent(plan.id)}`;
  switch (came.is) {
    case 'alike': case 'changed here': return { row, pair: false };
    case 'new': case 'new beside': case 'put away here': {
      const got = await asNew(plan);
      return 'ok' in got ? over({ says: came.is === 'put away here' ? 'It stands here again.' : 'It stands here now.', id: got.ok.plan.id }) : not(got.problem, got.status);
    }
    case 'put away at home': {
      const got = await send('DELETE', at, binnedSchema);
      return 'ok' in got ? over({ says: 'It lies in the bin here too.', id: null }) : not(got.problem, got.status);
    }
    case 'changed at home': case 'changed at both': {
      // What comes from home is known here from then on, so that it can go on there and come back once more.
      const beside = came.is === 'changed at both' ? { beside: home.now } : {};
      const got = await send('PUT', at, keptSchema, { base: revision, plan, ...beside });
      if ('ok' in got) return over({ says: came.is === 'changed at both' ? 'Brought together. Both versions are kept under Former versions.' : 'Brought back. What stood here is kept under Former versions.', id: plan.id });
      if (!conflictSchema.safeParse(got.body).success) return not(got.problem, got.status);
      const again = await look(home, row);
      return { row: 'failed' in again ? { ...row, problem: again.failed } : { ...again, problem: 'It was changed here again while you looked. Look once more, then bring it back.' }, pair: false };
    }
  }
}
