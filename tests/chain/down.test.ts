/** Holds what a studio's own server takes from its chain: plans, movements, its timetable; changed on both sides, over a line that breaks, and nothing of either is lost. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mergePlans, same } from '../../shared/plan/merge.ts';
import { mergeTimetables } from '../../shared/plan/merge-timetable.ts';
import type { Plan, PlanInput } from '../../shared/plan/plan.ts';
import type { Settle } from '../../shared/wire/house.ts';
import { readTimetable, writeTimetable } from '../../server/plans/timetable.ts';
import { Hindered } from '../../server/upward/hindered.ts';
import { edits } from '../merge/edits.ts';
import { SEED } from '../seed.ts';
import { line, pairOf, plan } from './two-desks.ts';

describe('two timetables', () => {
  it('K528 what one side alone changed of a line is taken, days off are a set, and what both changed otherwise waits as it is here', () => {
    const base = [line(), line({ id: 'tue', day: '2026-01-06', not: ['2026-02-03'] })];
    const theirs = [line({ minutes: 50 }), line({ id: 'tue', day: '2026-01-06', not: ['2026-02-10'] }), line({ id: 'wed', day: '2026-01-07' })];
    const ours = [line({ at: '18:30' }), line({ id: 'tue', day: '2026-01-06', not: ['2026-02-03', '2026-03-03'] })];
    expect(mergeTimetables(base, ours, theirs)).toEqual({
      entries: [line({ at: '18:30', minutes: 50 }), line({ id: 'tue', day: '2026-01-06', not: ['2026-02-10', '2026-03-03'] }), line({ id: 'wed', day: '2026-01-07' })], conflicts: [],
    });
    // A day of one and an hour of the other are one thing: when it is.
    const [moved, later] = [[line({ day: '2026-01-08' })], [line({ at: '19:00' })]];
    expect(mergeTimetables([line()], moved, later)).toEqual({ entries: moved, conflicts: [{ id: 'mon', ours: moved[0], theirs: later[0] }] });
    expect(mergeTimetables([line()], moved, later, { mon: 'theirs' })).toEqual({ entries: later, conflicts: [] });
    // Taken out by one: gone where the other left it, asked where the other changed it.
    expect(mergeTimetables([line()], [line()], [])).toEqual({ entries: [], conflicts: [] });
    expect(mergeTimetables([line()], [], [line()])).toEqual({ entries: [], conflicts: [] });
    expect(mergeTimetables([line()], moved, [])).toEqual({ entries: moved, conflicts: [{ id: 'mon', ours: moved[0], theirs: null }] });
    expect(mergeTimetables([line()], [], later)).toEqual({ entries: [], conflicts: [{ id: 'mon', ours: null, theirs: later[0] }] });
    expect(mergeTimetables([], moved, later).conflicts.length).toBe(1);
  });
});

describe('a chain and a studio', () => {
  it('K529 what the chain made arrives, once; what it puts into its bin goes; what came with Hallclock and what the studio has of its own stay', async () => {
    const { chain, here, house, begin, newsSeen } = await pairOf();
    const down = await begin();
    const { figure: _figure, ...squat } = (await chain.library.movements()).movements.find((m) => m.id === 'squat') ?? {};
    await chain.files.write('movements', 'deep-squat.json', JSON.stringify({ ...squat, id: 'deep-squat', name: 'Deep squat' }));
    await chain.plans.add(plan({ sections: [{ id: 'main', kind: 'main', work: 40, items: [{ movement: 'deep-squat' }] }] }));
    await here.plans.add(plan({ id: 'own', name: 'Own' }));
    await writeTimetable(house, [line()]);
    await down.pass();
    expect([(await here.ofKept('dawn'))?.plan.name, await here.library.movement('deep-squat')]).toEqual(['Dawn', expect.anything()]);
    expect((await here.library.plans()).plans.find((p) => p.id === 'dawn')?.problem).toBeNull();
    expect((await readTimetable(here.files, false)).timetable?.entries).toEqual([line()]);
    expect([down.plansAt() !== null, newsSeen(), down.troubles()]).toEqual([true, 1, []]);
    await down.pass();
    await (await begin()).pass();
    expect([newsSeen(), (await here.plans.versions('dawn')).length]).toEqual([1, 1]);
    // A movement that was changed here stays as it is here, and that is said.
    await here.files.write('movements', 'deep-squat.json', JSON.stringify({ ...squat, id: 'deep-squat', name: 'Low squat' }));
    await chain.files.write('movements', 'deep-squat.json', JSON.stringify({ ...squat, id: 'deep-squat', name: 'Deepest squat' }));
    await chain.plans.away('dawn');
    await down.pass();
    expect((await here.library.movements()).movements.find((m) => m.id === 'deep-squat')?.name).toBe('Low squat');
    expect(down.troubles()).toEqual([expect.stringContaining('“Deepest squat” is otherwise here than at the chain')]);
    expect([await here.ofKept('dawn'), (await here.plans.binned()).map((b) => b.name), (await here.ofKept('own'))?.plan.name]).toEqual([null, ['Dawn'], 'Own']);
  });

  it('K529 what is more than one message holds arrives whole, also where the line breaks between them', async () => {
    let left = Number.POSITIVE_INFINITY;
    const { chain, here, begin, newsSeen } = await pairOf(() => { left -= 1; return left < 0 ? 'answer' : null; });
    const sections: PlanInput['sections'] = Array.from({ length: 20 }, (_, k) => ({ id: `s-${k}`, kind: 'main', work: 40, items: Array.from({ length: 30 }, () => ({ movement: 'squat', work: 30, rest: 10 })) }));
    for (let k = 0; k < 20; k += 1) await chain.plans.add(plan({ id: `long-${k}`, name: `Long ${k}`, sections }));
    const ours = async () => (await here.files.list('plans')).filter((f) => f.name.startsWith('long-')).length;
    left = 1;
    await expect((await begin()).pass()).rejects.toThrow(Hindered);
    expect(await ours()).toBeGreaterThan(0);
    expect(await ours()).toBeLessThan(20);
    left = Number.POSITIVE_INFINITY;
    const down = await begin();
    await down.pass();
    expect([await ours(), newsSeen() > 3, down.plansAt() !== null, down.troubles()]).toEqual([20, true, true, []]);
  });

  it('K530 both change a plan while the line is down: what fits is brought together, what does not waits and is settled at the desk, and both stay among the versions', async () => {
    const { chain, here, house, begin } = await pairOf();
    let down = await begin();
    await chain.plans.add(plan());
    await writeTimetable(house, [line()]);
    await down.pass();
    await chain.edit('dawn', (p) => ({ ...p, slot: 2_700, note: 'Of the chain' }));
    await here.edit('dawn', (p) => ({ ...p, name: 'Dawn here' }));
    await down.pass();
    expect((await here.ofKept('dawn'))?.plan).toMatchObject({ name: 'Dawn here', slot: 2_700, note: 'Of the chain' });
    // Now both change the name, and one more thing each.
    await chain.edit('dawn', (p) => ({ ...p, name: 'Dawn of the chain', slot: 3_000 }));
    await here.edit('dawn', (p) => ({ ...p, name: 'Dawn of the studio', note: 'Of the studio' }));
    await writeTimetable(house, [line({ at: '19:00' })]);
    await writeTimetable(here.files, [line({ at: '17:00' })]);
    for (let n = 0; n < 3; n += 1) {
      await down.pass();
      down = await begin();
    }
    const { plans: [waiting], lines: [late] } = await down.conflicts();
    expect([waiting?.ours.name, waiting?.theirs.name, late?.ours?.at, late?.theirs?.at]).toEqual(['Dawn of the studio', 'Dawn of the chain', '17:00', '19:00']);
    expect((await here.ofKept('dawn'))?.plan).toMatchObject({ name: 'Dawn of the studio', slot: 2_700, note: 'Of the studio' });
    const before = (await here.plans.versions('dawn')).length;
    if (!waiting || !late) throw new Error('nothing waits');
    const { ours, theirs } = waiting;
    expect(await down.settle({ kind: 'plan', ours, theirs, chosen: {} })).toContain('no longer as it was shown');
    expect(await down.settle({ kind: 'plan', ours: { ...ours, name: 'Older' }, theirs, chosen: { name: 'theirs' } })).toContain('no longer as it was shown');
    expect(await down.settle({ kind: 'line', id: 'mon', ours: late.ours, theirs: null, whose: 'theirs' })).toContain('no longer as it was shown');
    expect((await here.plans.versions('dawn')).length).toBe(before);
    expect(await down.settle({ kind: 'plan', ours, theirs, chosen: { name: 'theirs' } })).toBeNull();
    expect(await down.settle({ kind: 'line', id: 'mon', ours: late.ours, theirs: late.theirs, whose: 'ours' })).toBeNull();
    expect((await here.ofKept('dawn'))?.plan).toMatchObject({ name: 'Dawn of the chain', slot: 3_000, note: 'Of the studio' });
    const versions = await here.plans.versions('dawn');
    for (const was of [ours, theirs]) expect(versions.some((v) => same(v.plan, was))).toBe(true);
    await down.pass();
    expect([await down.conflicts(), (await readTimetable(here.files, false)).timetable?.entries]).toEqual([{ plans: [], lines: [] }, [line({ at: '17:00' })]]);
    // What was settled as it is here is not asked again, and the next change of the chain comes.
    await writeTimetable(house, [line({ at: '19:00', minutes: 50 })]);
    await down.pass();
    expect((await readTimetable(here.files, false)).timetable?.entries).toEqual([line({ at: '17:00', minutes: 50 })]);
  });

  it('K531 a plan of the same name that the studio made by itself is asked about; one that it put into its bin stays there and is brought together when it is taken out again', async () => {
    const { chain, here, begin } = await pairOf();
    const down = await begin();
    await chain.plans.add(plan());
    await here.plans.add(plan({ name: 'Dawn before' }));
    await down.pass();
    const { plans: [waiting] } = await down.conflicts();
    expect([waiting?.base, waiting?.ours.name, waiting?.theirs.name]).toEqual([null, 'Dawn before', 'Dawn']);
    if (!waiting) throw new Error('nothing waits');
    expect(await down.settle({ kind: 'plan', ours: waiting.ours, theirs: waiting.theirs, chosen: { whole: 'theirs' } })).toBeNull();
    expect([(await here.ofKept('dawn'))?.plan.name, (await here.plans.versions('dawn')).map((v) => v.plan.name)]).toEqual(['Dawn', expect.arrayContaining(['Dawn before'])]);
    const binned = await here.plans.away('dawn');
    await chain.edit('dawn', (p) => ({ ...p, slot: 3_000 }));
    await down.pass();
    expect([await here.ofKept('dawn'), await down.conflicts()]).toEqual([null, { plans: [], lines: [] }]);
    await here.plans.back('file' in binned ? binned.file : '');
    await down.pass();
    expect((await here.ofKept('dawn'))?.plan.slot).toBe(3_000);
  });

  it('K532 over a line that loses questions and answers, with restarts, each side\'s changes are in the studio\'s plan or wait, and every version that anybody kept is there', async () => {
    await fc.assert(fc.asyncProperty(fc.array(fc.oneof(fc.record({ who: fc.constantFrom('chain', 'here'), change: edits }), fc.constantFrom('pass', 'pass', 'restart', 'settle ours', 'settle theirs')), { minLength: 6, maxLength: 24 }), fc.infiniteStream(fc.constantFrom('question', 'answer', null, null)), async (story, luck) => {
      let bad = true;
      const { chain, here, begin } = await pairOf(() => (bad ? luck.next().value ?? null : null));
      let down = await begin();
      const wrote: Plan[] = [];
      await chain.plans.add(plan());
      const settleAll = async (whose: 'mine' | 'theirs'): Promise<void> => {
        for (const c of (await down.conflicts()).plans) {
          let chosen: Record<string, 'mine' | 'theirs'> = { whole: whose };
          for (let k = 0; c.base && k < 20; k += 1) chosen = { ...chosen, ...Object.fromEntries(mergePlans(c.base, c.ours, c.theirs, chosen).conflicts.map((x) => [x.at, whose])) };
          expect(await down.settle({ kind: 'plan', ours: c.ours, theirs: c.theirs, chosen } satisfies Settle)).toBeNull();
        }
      };
      const pass = () => down.pass().catch((error: unknown) => { if (!(error instanceof Hindered)) throw error; });
      for (const what of story) {
        if (what === 'pass') await pass();
        else if (what === 'restart') down = await begin();
        else if (typeof what === 'string') await settleAll(what === 'settle ours' ? 'mine' : 'theirs');
        else {
          const side = what.who === 'chain' ? chain : here;
          await side.edit('dawn', what.change);
          const kept = await side.ofKept('dawn');
          if (what.who === 'here' && kept?.own) wrote.push(kept.plan);
        }
      }
      bad = false;
      await pass();
      await settleAll('theirs');
      await pass();
      expect([await down.conflicts(), down.troubles()]).toEqual([{ plans: [], lines: [] }, []]);
      // What the chain alone changes from here on arrives.
      await chain.edit('dawn', (p) => ({ ...p, group: 'beginners' }));
      await pass();
      expect((await here.ofKept('dawn'))?.plan).toMatchObject({ group: 'beginners' });
      const versions = await here.plans.versions('dawn');
      for (const was of wrote) expect(versions.some((v) => same(v.plan, was)), JSON.stringify(was)).toBe(true);
    }), { numRuns: 60, seed: SEED });
  }, 120_000);
});
