/** Holds that a page at home answers the editor as the server does: the same bodies, merged, remembered, binned. */
import { beforeEach, describe, expect, it } from 'vitest';
import { homeStudio, revisionOf } from '../../remote/home/studio.ts';
import { homeFileSchema } from '../../shared/home/file.ts';
import { type Plan, planSchema } from '../../shared/plan/plan.ts';
import { movementsSchema, plansSchema, problemSchema } from '../../shared/wire/http.ts';
import { binnedSchema, binSchema, conflictSchema, editorsSchema, keptSchema, versionsSchema } from '../../shared/wire/plans.ts';
import { library } from '../coach/library.ts';

const plan = planSchema.parse({ format: 1, id: 'p', name: 'P', sections: [{ id: 'a', kind: 'main', work: 40, rest: 20, items: [{ movement: 'squat' }] }] });
const file = homeFileSchema.parse({
  kind: 'hallclock-at-home', format: 1, id: '00000000-0000-4000-8000-000000000001', studio: 'S', timeZone: 'UTC', takenAt: 1, savedAt: null,
  plans: [{ now: plan, base: plan, revision: '0123456789abcdef' }], movements: [...library.values()],
});
let told = 0;
let studio = homeStudio(file, () => 5, () => {});
beforeEach(() => { told = 0; studio = homeStudio(file, () => 5, () => { told += 1; }); });
const ask = (method: string, path: string, body?: unknown) => studio.answer(method, path, body);
const put = (base: Plan, now: Plan) => ask('PUT', '/api/plans/p', { base: revisionOf(base), plan: now });

describe('the studio in the page', () => {
  it('P325 answers with the bodies of the server', () => {
    expect(movementsSchema.parse(ask('GET', '/api/movements').body).movements.length).toBe(library.size);
    expect(plansSchema.parse(ask('GET', '/api/plans').body).plans).toMatchObject([{ id: 'p', problem: null }]);
    expect(keptSchema.parse(ask('GET', '/api/plans/p/kept').body).plan).toEqual(plan);
    expect(planSchema.parse(ask('GET', '/api/plans/p').body)).toEqual(plan);
    expect(editorsSchema.parse(ask('POST', '/api/plans/p/editing', { editor: 'x' }).body)).toEqual({ others: 0, revision: revisionOf(plan) });
    for (const [method, path] of [['GET', '/api/plans/none'], ['GET', '/api/classes'], ['PUT', '/api/timetable'], ['DELETE', '/api/plans/none']] as const) {
      const got = ask(method, path, {});
      expect([got.status, problemSchema.safeParse(got.body).success]).toEqual([404, true]);
    }
    expect(told).toBe(0);
  });

  it('P325 keeps what is put, its base and its versions; a stale base is brought together or asked about', () => {
    const mine = planSchema.parse({ ...plan, name: 'Mine' });
    expect(keptSchema.parse(put(plan, mine).body)).toMatchObject({ plan: { name: 'Mine' }, taken: [] });
    expect(studio.plans()).toEqual([{ now: mine, base: plan, revision: '0123456789abcdef', gone: false, saves: [] }]);
    const both = keptSchema.parse(put(plan, planSchema.parse({ ...plan, slot: 1_800 })).body);
    expect([both.plan.name, both.plan.slot, both.taken]).toEqual(['Mine', 1_800, ['the name']]);
    const clash = put(plan, planSchema.parse({ ...plan, name: 'Other' }));
    expect([clash.status, conflictSchema.parse(clash.body).conflicts]).toEqual([409, ['the name']]);
    expect(told).toBe(2);
    const { versions } = versionsSchema.parse(ask('GET', '/api/plans/p/versions').body);
    expect(versions.map((v) => v.name).sort()).toEqual(['Mine', 'Mine', 'Other', 'P']);
    const first = versions.at(-1);
    expect(planSchema.parse(ask('GET', `/api/plans/p/versions/${first?.revision}`).body)).toEqual(plan);
  });

  it('P325 a plan begun at home has no base; one in the bin lies in the file and can be taken out', () => {
    const begun = planSchema.parse({ ...plan, id: 'q', name: 'Q' });
    expect(ask('POST', '/api/plans', begun).status).toBe(201);
    expect(ask('POST', '/api/plans', begun).status).toBe(409);
    expect(ask('POST', '/api/plans', { ...begun, id: 'r', name: '' }).status).toBe(400);
    expect(studio.plans()[1]).toEqual({ now: begun, base: null, revision: null, gone: false, saves: [] });
    binnedSchema.parse(ask('DELETE', '/api/plans/q').body);
    expect(plansSchema.parse(ask('GET', '/api/plans').body).plans.map((p) => p.id)).toEqual(['p']);
    expect(binSchema.parse(ask('GET', '/api/bin').body).plans.map((p) => p.id)).toEqual(['q']);
    keptSchema.parse(ask('POST', '/api/bin/q/back').body);
    expect(studio.plan('q')).toEqual(begun);
  });

  it('P325 what another window of the same file kept is the newest for an editor here, and nothing here is forgotten', () => {
    const [mine, theirs] = [planSchema.parse({ ...plan, name: 'Mine' }), planSchema.parse({ ...plan, slot: 1_800 })];
    put(plan, mine);
    studio.takeIn([{ now: theirs, base: plan, revision: null, gone: false, saves: [] }]);
    const merged = keptSchema.parse(put(mine, planSchema.parse({ ...mine, note: 'x' })).body);
    expect([merged.plan.name, merged.plan.slot, merged.plan.note]).toEqual(['P', 1_800, 'x']);
    expect(versionsSchema.parse(ask('GET', '/api/plans/p/versions').body).versions.map((v) => v.name)).toContain('Mine');
  });
});
