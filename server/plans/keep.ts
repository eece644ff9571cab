/**
 * Owns the studio's plans: a file each, written whole or not at all, one write after the
 * other over all servers; the versions before it; and the bin. A version is named by
 * what is in it, so that a plan written by hand has one too. Leaves alone where files are
 * (server/files), how plans are read for a class (library.ts) and who may write.
 */
import { createHash } from 'node:crypto';
import { OWN_PLANS_MAX, PLAN_VERSIONS_MAX } from '../../shared/limits.ts';
import { mergePlans } from '../../shared/plan/merge.ts';
import { type Plan, planSchema } from '../../shared/plan/plan.ts';
import type { ServerAt } from '../../shared/time/units.ts';
import type { ConflictBody, KeptBody, PutPlanBody } from '../../shared/wire/plans.ts';
import { type Files, notKept, notKeptStatus, type StudioFiles } from '../files/files.ts';
import type { Library } from '../library.ts';

export type Refused = { readonly status: number; readonly body: { readonly error: string; readonly path?: string } | ConflictBody };
const no = (status: number, error: string, path?: string): Refused => ({ status, body: path === undefined ? { error } : { error, path } });
const NONE = 'The studio has no such plan. It may have been put into the bin; look there.';

export const revisionOf = (value: unknown): string => createHash('sha256').update(JSON.stringify(value)).digest('hex').slice(0, 16);
const saved = (plan: Plan): string => `${JSON.stringify(plan, null, 2)}\n`;

export interface Version { readonly revision: string; readonly at: number; readonly plan: Plan }
export interface Binned { readonly file: string; readonly id: string; readonly name: string; readonly at: number }

const FOLDER = 'plans';
const BIN = 'plans/.bin';
const versionsOf = (id: string): string => `plans/.versions/${id}`;

/** What can be done with plans in these files. */
function within(files: Files, library: Pick<Library, 'came'>, now: () => ServerAt) {
  const list = async (folder: string): Promise<string[]> => (await files.list(folder)).map((f) => f.name);
  async function readPlan(folder: string, name: string): Promise<Plan | null> {
    try {
      const parsed = planSchema.safeParse(JSON.parse((await files.read(folder, name) ?? '').toString()));
      return parsed.success ? parsed.data : null;
    } catch (error) {
      if (error instanceof SyntaxError) return null;
      throw error;
    }
  }
  const isOwn = async (id: string): Promise<boolean> => (await list(FOLDER)).includes(`${id}.json`);
  /** Null too where the studio's own file is no plan. */
  const current = async (id: string): Promise<Plan | null> => ((await isOwn(id)) ? readPlan(FOLDER, `${id}.json`).then((plan) => (plan?.id === id ? plan : null)) : library.came(id));
  const kept = async (plan: Plan, taken: readonly string[] = []): Promise<KeptBody> => ({ plan, revision: revisionOf(plan), own: await isOwn(plan.id), taken: [...taken] });

  /** "1764090000000-0123456789abcdef.json": when, and which. */
  const stampOf = (file: string) => {
    const found = /^(\d+)-([a-f0-9]{16})\.json$/.exec(file);
    return found ? { file, at: Number(found[1]), revision: found[2] ?? '' } : null;
  };
  const stamps = async (id: string) => (await list(versionsOf(id))).flatMap((file) => stampOf(file) ?? []).sort((a, b) => b.at - a.at);

  async function remember(plan: Plan): Promise<void> {
    const revision = revisionOf(plan);
    const before = await stamps(plan.id);
    if (before[0]?.revision === revision) return;
    const at = Math.max(Math.floor(now()), (before[0]?.at ?? 0) + 1);
    await files.write(versionsOf(plan.id), `${at}-${revision}.json`, saved(plan));
    for (const { file } of before.slice(PLAN_VERSIONS_MAX - 1)) await files.remove(versionsOf(plan.id), file);
  }
  async function versionOf(id: string, revision: string): Promise<Plan | null> {
    const found = (await stamps(id)).find((s) => s.revision === revision);
    return found ? readPlan(versionsOf(id), found.file) : null;
  }
  /** What is overwritten is remembered first. */
  async function write(plan: Plan): Promise<void> {
    const before = await current(plan.id);
    if (before) await remember(before);
    await remember(plan);
    await files.write(FOLDER, `${plan.id}.json`, saved(plan));
  }

  async function add(plan: Plan): Promise<KeptBody | Refused> {
    if (await isOwn(plan.id) || await library.came(plan.id)) return no(409, `There is a plan "${plan.id}" already. Give this one another name.`, 'id');
    if ((await list(FOLDER)).filter((f) => f.endsWith('.json')).length >= OWN_PLANS_MAX) return no(409, `The studio has ${OWN_PLANS_MAX} plans of its own, which is the most. Put some into the bin first.`);
    await write(plan);
    return kept(plan);
  }

  async function put(id: string, { base, plan, beside }: PutPlanBody): Promise<KeptBody | Refused> {
    if (plan.id !== id) return no(400, `The plan calls itself "${plan.id}", and this is the place of "${id}". Send it to its own place, or keep it as a new plan.`, 'plan.id');
    const theirs = await current(id);
    if (!theirs) return no(404, NONE);
    if (beside && beside.id === id) await remember(beside);
    const revision = revisionOf(theirs);
    if (revision === base || revisionOf(plan) === revision) {
      if (revisionOf(plan) !== revision) await write(plan);
      return kept(plan);
    }
    const from = await versionOf(id, base);
    const merged = from ? mergePlans(from, plan, theirs) : null;
    const valid = merged && planSchema.safeParse(merged.plan);
    if (merged && valid?.success && merged.conflicts.length === 0) {
      await write(valid.data);
      return kept(valid.data, merged.taken);
    }
    // Mine is remembered among the versions before anybody is asked: nothing is lost even if the page is closed now.
    await remember(plan);
    await remember(theirs);
    const conflicts = merged?.conflicts.map((c) => c.where) ?? ['a version that is no longer kept'];
    return { status: 409, body: { error: `Somebody else changed this plan meanwhile, and both of you changed ${conflicts.join(', and ')}. Choose whose stays; the other is kept among the versions.`, conflicts, theirs, revision } };
  }

  async function away(id: string): Promise<Binned | Refused> {
    if (!(await isOwn(id))) return (await current(id)) ? no(409, 'This plan came with Hallclock and stays. Copy it to make one of your own.') : no(404, NONE);
    const plan = await readPlan(FOLDER, `${id}.json`);
    if (plan) await remember(plan);
    const at = Math.floor(now());
    const file = `${at}-${id}.json`;
    await files.write(BIN, file, await files.read(FOLDER, `${id}.json`) ?? '');
    await files.remove(FOLDER, `${id}.json`);
    return { file, id, name: plan?.name ?? id, at };
  }
  async function back(file: string): Promise<KeptBody | Refused> {
    // The name is one of those in the folder, never one that was sent.
    const found = (await list(BIN)).find((f) => f === file);
    const plan = found === undefined ? null : await readPlan(BIN, found);
    if (found === undefined) return no(404, 'There is no such plan in the bin.');
    if (!plan) return no(422, 'That file in the bin cannot be read as a plan. It was left as it is.');
    if (await isOwn(plan.id)) return no(409, `There is a plan "${plan.id}" again. Rename or bin that one first; this one stays in the bin.`);
    await files.write(FOLDER, `${plan.id}.json`, saved(plan));
    await files.remove(BIN, found);
    return kept(plan);
  }
  async function binned(): Promise<Binned[]> {
    const binned = (await list(BIN)).flatMap((file) => { const m = /^(\d+)-(.+)\.json$/.exec(file); return m ? [{ file, at: Number(m[1]), id: m[2] ?? '' }] : []; });
    const all = await Promise.all(binned.map(async (f) => ({ ...f, name: (await readPlan(BIN, f.file))?.name ?? f.id })));
    return all.sort((a, b) => b.at - a.at);
  }

  return {
    add, put, away, back, binned,
    kept: async (id: string): Promise<KeptBody | Refused> => { const plan = await current(id); return plan ? kept(plan) : no(404, NONE); },
    revision: async (id: string): Promise<string | null> => { const plan = await current(id); return plan && revisionOf(plan); },
    version: versionOf,
    versions: async (id: string): Promise<Version[]> =>
      (await Promise.all((await stamps(id)).map(async ({ file, at, revision }) => ({ at, revision, plan: await readPlan(versionsOf(id), file) }))))
        .flatMap((v) => (v.plan ? [{ ...v, plan: v.plan }] : [])),
  };
}
type Within = ReturnType<typeof within>;

export function openPlans(files: StudioFiles, library: Pick<Library, 'came'>, now: () => ServerAt) {
  const { kept, revision, version, versions, binned } = within(files, library, now);
  /** One after the other, so that two who come at once do not both think they were first. */
  const alone = <T>(work: (plans: Within) => Promise<T | Refused>): Promise<T | Refused> =>
    files.alone((f) => work(within(f, library, now))).catch((): Refused => ({ status: notKeptStatus(files), body: { error: `${notKept(files)} What you wrote stays on this page.` } }));
  return {
    kept, revision, version, versions, binned,
    add: (plan: Plan) => alone((plans) => plans.add(plan)),
    put: (id: string, sent: PutPlanBody) => alone((plans) => plans.put(id, sent)),
    away: (id: string) => alone((plans) => plans.away(id)),
    back: (file: string) => alone((plans) => plans.back(file)),
  };
}
export type Plans = ReturnType<typeof openPlans>;
