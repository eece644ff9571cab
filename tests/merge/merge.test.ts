/** Holds bringing two versions of a plan together: laws on random plans and edits, and examples of each kind of conflict. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Conflict, mergePlans, same, settled, type Whose } from '../../shared/plan/merge.ts';
import { type Item, type Plan, type PlanInput, planSchema, type Section } from '../../shared/plan/plan.ts';
import { plans } from '../random/plans.ts';
import { edits } from './edits.ts';

const three = fc.tuple(plans, edits, edits).map(([base, one, other]) => [base, one(base), other(base)] as const);
const runs = { numRuns: 600 };
const allTo = (whose: Whose, base: Plan, a: Plan, b: Plan): Plan => {
  let chosen: Record<string, Whose> = {};
  for (let k = 0; k < 20; k += 1) {
    const { plan, conflicts } = mergePlans(base, a, b, chosen);
    if (settled(conflicts, chosen)) return plan;
    chosen = { ...chosen, ...Object.fromEntries(conflicts.map((c) => [c.at, whose])) };
  }
  throw new Error('choosing never ends');
};

/** Every single thing that a version says, with the section it says it in. */
function saidIn(p: Plan): { section: string; what: string }[] {
  const of = (section: string, o: object): { section: string; what: string }[] => Object.entries(o).map(([k, v]) => ({ section, what: `${k} ${JSON.stringify(v)}` }));
  const { sections, waived, ...top } = p;
  return [
    ...of('', top), ...(waived ?? []).map((w) => ({ section: '', what: JSON.stringify(w) })),
    ...sections.flatMap(({ items, ...s }) => [...of(s.id, s), ...items.flatMap((i) => of(s.id, i).map(({ section, what }) => ({ section, what: `${i.movement}: ${what}` })))]),
  ];
}
const keyOf = (x: { section: string; what: string }): string => `${x.section} | ${x.what}`;
const count = (p: Plan): Map<string, number> => {
  const out = new Map<string, number>();
  for (const x of saidIn(p)) out.set(keyOf(x), (out.get(keyOf(x)) ?? 0) + 1);
  return out;
};
const covers = (c: Conflict, section: string): boolean => c.at === 'whole' || (section === '' ? !c.section : c.section?.id === section);

describe('laws of bringing two versions together', () => {
  it('P310 who alone changed something has it all', () => {
    fc.assert(fc.property(three, ([base, a]) => {
      for (const merged of [mergePlans(base, a, base), mergePlans(base, base, a), mergePlans(base, a, a)]) {
        expect(merged.conflicts).toEqual([]);
        expect(merged.plan).toEqual(a);
      }
    }), runs);
  });

  it('P311 nothing is lost: what either wrote is in the result or in a conflict with its value, and what neither wrote is not in it', () => {
    let met = 0;
    fc.assert(fc.property(three, ([base, a, b]) => {
      const { plan, conflicts } = mergePlans(base, a, b);
      met += conflicts.length;
      const [was, got, ofA, ofB] = [base, plan, a, b].map(count) as [Map<string, number>, Map<string, number>, Map<string, number>, Map<string, number>];
      for (const [version, had, others] of [[a, ofA, ofB], [b, ofB, ofA]] as const) {
        for (const said of saidIn(version)) {
          const key = keyOf(said);
          const [before, now, there] = [was, had, others].map((c) => c.get(key) ?? 0) as [number, number, number];
          // What one put in is in it, but for what the other took out.
          if (now <= before || (got.get(key) ?? 0) >= now + Math.min(0, there - before)) continue;
          const named = conflicts.filter((c) => covers(c, said.section));
          if (named.length === 0) throw new Error(`lost: ${key}`);
        }
      }
      for (const key of got.keys()) expect(ofA.has(key) || ofB.has(key), key).toBe(true);
      for (const c of conflicts) {
        expect(same(c.mine, c.theirs)).toBe(false);
        expect(same(c.mine, c.base) || same(c.theirs, c.base)).toBe(false);
      }
    }), runs);
    expect(met).toBeGreaterThan(100);
  });

  it('P311 the result is a plan whatever is chosen; the other way round it is the same but for the order', () => {
    fc.assert(fc.property(three, ([base, a, b]) => {
      for (const whose of ['mine', 'theirs'] as const) {
        const plan = allTo(whose, base, a, b);
        expect(planSchema.safeParse(plan).success).toBe(true);
        const turned = allTo(whose === 'mine' ? 'theirs' : 'mine', base, b, a);
        expect([...count(turned)].sort()).toEqual([...count(plan)].sort());
      }
    }), runs);
  });

  it('P312 two who changed different fields, different moves or different sections are never asked', () => {
    const base = planSchema.parse({ format: 1, id: 'p', name: 'P', sections: [
      { id: 'a', kind: 'main', work: 40, rest: 20, items: ['squat', 'lunge', 'plank'].map((movement) => ({ movement })) }, { id: 'b', kind: 'cool-down', work: 30, items: [{ movement: 'march' }] },
    ] });
    const item = (p: Plan, section: string, k: number, fields: Partial<Item>): Plan =>
      planSchema.parse({ ...p, sections: p.sections.map((s) => (s.id === section ? { ...s, items: s.items.map((x, i) => (i === k ? { ...x, ...fields } : x)) } : s)) });
    const set = (p: Plan, section: string, fields: Partial<Section>): Plan => planSchema.parse({ ...p, sections: p.sections.map((s) => (s.id === section ? { ...s, ...fields } : s)) });
    const single: ((p: Plan) => Plan)[] = [
      (p) => ({ ...p, name: 'Q' }), (p) => ({ ...p, slot: 1_800 }), (p) => set(p, 'a', { work: 45 }), (p) => set(p, 'a', { rest: 15 }), (p) => set(p, 'b', { work: 20 }),
      (p) => item(p, 'a', 0, { work: 20 }), (p) => item(p, 'a', 0, { rest: 5 }), (p) => item(p, 'a', 2, { work: 25 }),
      (p) => set(p, 'b', { items: [...(p.sections[1] as Section).items, { movement: 'bridge' }] }),
    ];
    fc.assert(fc.property(fc.shuffledSubarray(single, { minLength: 2 }), fc.nat(), (chosen, at) => {
      const cut = 1 + (at % (chosen.length - 1));
      const by = (list: typeof single): Plan => list.reduce((p, f) => f(p), base);
      const merged = mergePlans(base, by(chosen.slice(0, cut)), by(chosen.slice(cut)));
      expect(merged.conflicts).toEqual([]);
      expect(merged.plan).toEqual(by(chosen));
    }), { numRuns: 300 });
  });
});

const input: PlanInput = { format: 1, id: 'p', name: 'P', sections: [
  { id: 'a', kind: 'warm-up', work: 60, items: [{ movement: 'march' }] },
  { id: 'b', kind: 'main', work: 40, rest: 20, items: ['squat', 'lunge', 'plank', 'bridge'].map((movement) => ({ movement })) },
] };
const base = planSchema.parse(input);
const withMain = (items: readonly Item[], fields: object = {}): Plan => planSchema.parse({ ...input, sections: [input.sections[0], { ...input.sections[1], ...fields, items }] });
const moves = (...ids: string[]): Item[] => ids.map((movement) => ({ movement }));
const mainOf = (p: Plan): string[] => (p.sections.find((s) => s.id === 'b')?.items ?? []).map((i) => i.movement);

describe('conflicts', () => {
  it('P312 moves put in, taken out and changed at different places are all there', () => {
    const mine = withMain([{ movement: 'squat', work: 30 }, ...moves('lunge', 'plank', 'bridge', 'march')]);
    const theirs = withMain(moves('squat', 'plank', 'bridge'));
    const { plan, conflicts, taken } = mergePlans(base, mine, theirs);
    expect([conflicts, mainOf(plan), plan.sections[1]?.items[0]?.work, taken]).toEqual([[], ['squat', 'plank', 'bridge', 'march'], 30, ['the movements of “Main”']]);
  });

  it('P311 each conflict names its place and both values, and is settled by itself', () => {
    const mine = withMain([{ movement: 'squat', work: 30 }, ...moves('march', 'plank', 'bridge')], { rounds: 3 });
    const theirs = withMain([{ movement: 'squat', work: 20 }, ...moves('clam', 'plank', 'bridge')], { rounds: 4, rest: 10 });
    const { conflicts } = mergePlans(base, mine, theirs);
    expect(conflicts.map(({ where, base: was, mine: own, theirs: other }) => [where, was, own, other])).toEqual([
      ['the rounds of “Main”', 1, 3, 4],
      ['the work of squat in “Main”', undefined, 30, 20],
      ['the movements of “Main”', moves('lunge'), moves('march'), moves('clam')],
    ]);
    const chosen = { 'b/rounds': 'theirs', 'b/items/0/work': 'mine', 'b/items/1': 'theirs' } as const;
    const settledPlan = mergePlans(base, mine, theirs, chosen);
    expect(settled(settledPlan.conflicts, chosen)).toBe(true);
    expect(settledPlan.plan.sections[1]).toMatchObject({ rounds: 4, rest: 10, items: [{ movement: 'squat', work: 30 }, { movement: 'clam' }, { movement: 'plank' }, { movement: 'bridge' }] });
  });

  it('P311 a section that one took out and the other changed stays until somebody says; talk and moves do not mix', () => {
    const gone = planSchema.parse({ ...input, sections: [input.sections[1]] });
    const changed = planSchema.parse({ ...input, sections: [{ ...input.sections[0], work: 90 }, input.sections[1]] });
    const asked = mergePlans(base, gone, changed);
    expect([asked.conflicts.map((c) => c.at), asked.plan.sections.map((s) => s.id)]).toEqual([['a'], ['a', 'b']]);
    expect(mergePlans(base, gone, changed, { a: 'mine' }).plan).toEqual(gone);
    const talk = planSchema.parse({ ...input, sections: [{ id: 'a', kind: 'warm-up', talk: 120 }, input.sections[1]] });
    const more = planSchema.parse({ ...input, sections: [{ ...input.sections[0], items: moves('march', 'squat') }, input.sections[1]] });
    expect(mergePlans(base, talk, more).conflicts.map((c) => c.at)).toEqual(['a/items/0']);
    // Talk of one and moves of the other are no section; then it is one or the other as a whole.
    const mixed = mergePlans(base, talk, more, { 'a/items/0': 'theirs' });
    expect([mixed.conflicts.map((c) => c.at), mixed.plan]).toEqual([['a/items/0', 'a/whole'], talk]);
    for (const whose of ['mine', 'theirs'] as const) expect(allTo(whose, base, talk, more)).toEqual(whose === 'mine' ? talk : more);
  });

  it('P311 sections moved by one and put in by the other: both, in the order of the one who moved them', () => {
    const turned = planSchema.parse({ ...input, sections: [input.sections[1], input.sections[0]] });
    const longer = planSchema.parse({ ...input, sections: [...input.sections, { id: 'c', kind: 'clear-up', talk: 30 }] });
    for (const [x, y] of [[turned, longer], [longer, turned]] as const) {
      const { plan, conflicts } = mergePlans(base, x, y);
      expect([conflicts, plan.sections.map((s) => s.id)]).toEqual([[], ['b', 'c', 'a']]);
    }
  });
});
