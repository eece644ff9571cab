/**
 * Owns being the studio in a page that was taken home: answers what the editor asks the
 * server, with the same bodies, from the plans in the page. Leaves alone where they are kept
 * between two openings (keep.ts) and how the answers get to those who ask (answers.ts).
 */
import { asSaved, type HomeFile, type HomePlan } from '../../shared/home/file.ts';
import { PLAN_VERSIONS_MAX } from '../../shared/limits.ts';
import type { Library } from '../../shared/movement/movement.ts';
import { compile } from '../../shared/plan/compile.ts';
import { factsOf } from '../../shared/plan/facts.ts';
import { mergePlans, same } from '../../shared/plan/merge.ts';
import { type Plan, planSchema } from '../../shared/plan/plan.ts';
import { refusalOf } from '../../shared/plan/read-file.ts';
import { summaryOf } from '../../shared/plan/summary.ts';
import { totals } from '../../shared/plan/totals.ts';
import { type KeptBody, putPlanSchema } from '../../shared/wire/plans.ts';

export interface Answer { readonly status: number; readonly body: unknown }
const ok = (body: unknown, status = 200): Answer => ({ status, body });
const no = (status: number, error: string): Answer => ({ status, body: { error } });
const NONE = 'There is no such plan in this file. It may have been put into the bin; look there.';

const FNV_PRIME = 0x01000193;
const FNV_BASIS = 0x811c9dc5;
const fnv = (bytes: Iterable<number>): string => {
  let hash = FNV_BASIS;
  for (const byte of bytes) hash = Math.imul(hash ^ byte, FNV_PRIME) >>> 0;
  return hash.toString(16).padStart(8, '0');
};
/** Names a version by what is in it: FNV-1a in 32 bits (Fowler, Noll, Vo; draft-eastlake-fnv), forwards and backwards. No secret hangs on it. */
export function revisionOf(plan: Plan): string {
  const bytes = new TextEncoder().encode(JSON.stringify(plan));
  return fnv(bytes) + fnv([...bytes].reverse());
}

/** @param now the device's wall clock @param changed called after each change */
export function homeStudio(first: HomeFile, now: () => number, changed: () => void) {
  let plans: readonly HomePlan[] = first.plans;
  const library: Library = new Map(first.movements.map((m) => [m.id, m]));
  const facts = Object.fromEntries(first.movements.map((m) => [m.id, factsOf(m)]));
  const versions = new Map<string, { readonly at: number; readonly revision: string; readonly plan: Plan }[]>();

  const entryOf = (id: string): HomePlan | undefined => plans.find((p) => p.now.id === id);
  const standing = (id: string): HomePlan | undefined => { const entry = entryOf(id); return entry && !entry.gone ? entry : undefined; };
  const remember = (plan: Plan) => {
    const list = versions.get(plan.id) ?? [];
    const revision = revisionOf(plan);
    if (list[0]?.revision === revision) return;
    versions.set(plan.id, [{ at: now(), revision, plan }, ...list].slice(0, PLAN_VERSIONS_MAX));
  };
  for (const { base } of plans) if (base) versions.set(base.id, [{ at: first.takenAt, revision: revisionOf(base), plan: base }]);

  const set = (entry: HomePlan) => {
    plans = entryOf(entry.now.id) ? plans.map((p) => (p.now.id === entry.now.id ? entry : p)) : [...plans, entry];
    changed();
  };
  const kept = (plan: Plan, taken: readonly string[] = []): KeptBody => ({ plan, revision: revisionOf(plan), own: true, taken: [...taken] });

  function put(id: string, body: unknown): Answer {
    const entry = standing(id);
    if (!entry) return no(404, NONE);
    const parsed = putPlanSchema.safeParse(body);
    if (!parsed.success || parsed.data.plan.id !== id) return no(400, 'This is no plan that can be kept.');
    const { base, plan } = parsed.data;
    remember(entry.now);
    // Another window of the same file may have kept something meanwhile.
    const from = base === revisionOf(entry.now) ? entry.now : versions.get(id)?.find((v) => v.revision === base)?.plan;
    const merged = mergePlans(from ?? entry.now, plan, entry.now);
    if (merged.conflicts.length > 0) {
      remember(plan);
      return { status: 409, body: { error: 'This plan was changed in another window.', conflicts: merged.conflicts.map((c) => c.where), theirs: entry.now, revision: revisionOf(entry.now) } };
    }
    const valid = planSchema.safeParse(merged.plan);
    const next = valid.success ? valid.data : plan;
    remember(next);
    if (!same(next, entry.now)) set({ ...entry, now: next });
    return ok(kept(next, merged.taken));
  }
  function post(body: unknown): Answer {
    const parsed = planSchema.safeParse(body);
    if (!parsed.success) return no(400, refusalOf(parsed.error).error);
    if (entryOf(parsed.data.id)) return no(409, `There is a plan "${parsed.data.id}" already, perhaps in the bin. Give this one another name.`);
    remember(parsed.data);
    set({ now: parsed.data, base: null, revision: null, gone: false, saves: [] });
    return ok(kept(parsed.data), 201);
  }
  const lying = () => plans.filter((p) => p.gone).map((p) => ({ file: p.now.id, id: p.now.id, name: p.now.name, at: now() }));
  function bin(id: string, gone: boolean): Answer {
    const entry = entryOf(id);
    if (!entry || entry.gone === gone) return no(404, NONE);
    set({ ...entry, gone });
    return ok(gone ? { file: id, id, name: entry.now.name, at: now() } : kept(entry.now));
  }

  /** @param path as the editor asks a server for it */
  function answer(method: string, path: string, body: unknown): Answer {
    const [, id = '', more = '', which = ''] = /^\/api\/plans\/([^/?]+)(?:\/([a-z]+))?(?:\/([a-f0-9]+))?/.exec(path) ?? [];
    const asked = `${method} ${path.split('?')[0]}`;
    if (asked === 'GET /api/movements') return ok({ movements: [...library.values()], broken: [] });
    if (asked === 'GET /api/plans') return ok({ plans: plans.filter((p) => !p.gone).map((p) => summaryOf(p.now, facts)), broken: [] });
    if (asked === 'POST /api/plans') return post(body);
    if (asked === 'GET /api/bin') return ok({ plans: lying() });
    const back = /^POST \/api\/bin\/([^/]+)\/back$/.exec(asked)?.[1];
    if (back) return bin(back, false);
    if (!id) return no(404, 'That is done in the studio. Save this file and bring it back there.');
    if (method === 'PUT' && more === '') return put(id, body);
    if (method === 'DELETE') return bin(id, true);
    const entry = standing(id);
    if (!entry) return no(404, NONE);
    if (more === '') return ok(entry.now);
    if (more === 'kept') return ok(kept(entry.now));
    if (more === 'editing') return ok({ others: 0, revision: revisionOf(entry.now) });
    if (more === 'versions' && which) { const v = versions.get(id)?.find((x) => x.revision === which); return v ? ok(v.plan) : no(404, 'There is no such version in this file.'); }
    if (more === 'versions') return ok({ versions: (versions.get(id) ?? []).map(({ at, revision, plan }) => ({ at, revision, name: plan.name, lengthMs: totals(compile(plan, facts).intervals).lengthMs })) });
    return no(404, 'That is done in the studio. Save this file and bring it back there.');
  }
  return {
    answer,
    plans: () => plans,
    /** What another window of the same file has kept. */
    takeIn: (theirs: readonly HomePlan[]) => {
      for (const { now: plan } of plans) remember(plan);
      plans = [...theirs, ...plans.filter((p) => !theirs.some((t) => t.now.id === p.now.id))];
    },
    /** The plans as they are written into a file now. */
    save: (): readonly HomePlan[] => {
      plans = plans.map(asSaved);
      return plans;
    },
    plan: (id: string): Plan | null => standing(id)?.now ?? null,
    library,
  };
}
export type HomeStudio = ReturnType<typeof homeStudio>;
