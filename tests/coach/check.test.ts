/** Holds the checker: its rules by example, its sentences on any plan, its speed. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { check, rulesList } from '../../shared/coach/check.ts';
import { applyEdits } from '../../shared/coach/edit.ts';
import { type Finding, grades, shown, waive } from '../../shared/coach/finding.ts';
import { ASK_FIRST } from '../../shared/coach/groups.ts';
import { factsOfLibrary } from '../../shared/coach/study.ts';
import type { Library, Movement } from '../../shared/movement/movement.ts';
import { compile } from '../../shared/plan/compile.ts';
import { groups, planSchema } from '../../shared/plan/plan.ts';
import { plans } from '../random/plans.ts';
import { examples } from './examples.ts';
import { around, library, main, moves, plan, shipped } from './library.ts';

const ids = (findings: readonly Finding[]): string[] => findings.map((f) => f.id);
/** The movements of the random plans, each as one of the shipped library. */
const stand: Readonly<Record<string, string>> = {
  march: 'march-in-place', squat: 'squat-jump', lunge: 'reverse-lunge', bridge: 'glute-bridge', plank: 'plank', clam: 'clamshell',
  'bird-dog': 'bird-dog', 'chair-march': 'chair-march', rise: 'chair-sit-to-stand',
};
const wide: Library = new Map([...library, ...Object.entries(stand).map(([id, as]): [string, Movement] => [id, { ...(library.get(as) as Movement), id }])]);

describe('the checker', () => {
  it('P203 has at least 25 rules, each with an id of its own, a reason, a source and both examples', () => {
    expect(rulesList.length).toBeGreaterThanOrEqual(25);
    expect(new Set(rulesList.map((r) => r.id)).size).toBe(rulesList.length);
    for (const r of rulesList) {
      expect(r.reason.length, r.id).toBeGreaterThan(20);
      expect(r.source, r.id).toMatch(/\S{4}/);
      expect(r.waivable).toBe(r.grade !== 'cannot run');
    }
    const untried = rulesList.map((r) => r.id).filter((id) => !examples[id] && !['no-low-impact-option', 'pregnancy-curling-up'].includes(id));
    expect(untried).toEqual([]);
  });
  it.each(Object.entries(examples))('P203 %s is found in its bad example and not in its good one', (id, { bad, good }) => {
    expect(ids(check(bad, library))).toContain(id);
    expect(ids(check(good, library))).not.toContain(id);
  });
  it('P203 the bounds of some rules stand where they are said to: two minutes before a jump, 30 s of a hold, 3 s a side, the slot to the second', () => {
    const jumpAfter = (s: number) => plan([{ id: 'w', kind: 'warm-up', work: s, items: moves('march-in-place') }, main({ items: moves('jumping-jack') })]);
    expect(ids(check(jumpAfter(119), library))).toContain('impact-before-warm-up');
    expect(ids(check(jumpAfter(120), library))).not.toContain('impact-before-warm-up');
    const held = (s: number) => plan([{ id: 'w', kind: 'cool-down', work: s, items: moves('chest-stretch') }]);
    expect([9, 10, 30, 31].map((s) => ids(check(held(s), library)).includes('stretch-hold'))).toEqual([true, false, false, true]);
    expect([29, 30, 60, 61].map((s) => ids(check(held(s), library, { group: 'older-adults' })).includes('stretch-hold'))).toEqual([true, false, false, true]);
    const exact = plan([main({ work: 60, rest: 0, setUp: 0, show: 'none', items: moves('squat') })], { slot: 60 });
    expect(ids(check(exact, library))).not.toContain('over-slot');
    expect(ids(check(exact, library, { slotS: 59 }))).toContain('over-slot');
    const area = (...list: string[]) => ids(check(around([main({ items: moves(...list) })]), library)).includes('same-area-thrice');
    expect(area('squat', 'glute-bridge', 'single-leg-bridge')).toBe(true);
    expect(area('squat', 'glute-bridge', 'push-up')).toBe(false);
    const hurried = (setUp: number) => check(around([main({ items: moves('squat', 'plank'), setUp, show: 'none' })]), library).filter((f) => f.id === 'change-without-time').map((f) => f.where.item);
    expect([hurried(5), hurried(6)]).toEqual([[1], []]);
  });
  it('P203 a jump whose library names nothing softer is found; ours name one', () => {
    const jump = library.get('squat-jump') as Movement;
    const { movement: _o, ...option } = jump.option;
    const hard: Library = new Map([...library, ['squat-jump', { ...jump, option, forNeeds: {} }]]);
    const p = around([main({ items: moves('squat-jump') })]);
    expect(ids(check(p, hard))).toContain('no-low-impact-option');
    expect(ids(check(p, library))).not.toContain('no-low-impact-option');
  });
  it('P203 a standing movement that loads the belly wall is asked about in pregnancy, and in no other class', () => {
    const m = library.get('standing-knee-to-elbow') as Movement;
    const asks: Library = new Map([...library, [m.id, { ...m, askFirst: ['New mothers: ask about the belly wall first'] }]]);
    const p = around([main({ items: moves(m.id) })], { group: 'pregnancy' });
    expect(ids(check(p, asks))).toContain('pregnancy-curling-up');
    expect(ids(check({ ...p, group: 'general' }, asks))).not.toContain('pregnancy-curling-up');
  });
  it('P200 says what, where and what to do: left 80 s, right 40 s', () => {
    const p = around([main({ rounds: 3, items: [{ movement: 'side-plank', sides: 'by-round' }] })]);
    const f = check(p, library).find((x) => x.id === 'sides-uneven');
    expect(f?.sentence).toBe('Main, side plank over 3 rounds: left 40 s, right 80 s. Add 40 s on the left, plan an even number of rounds, or halve it.');
    expect(f?.where).toEqual({ section: 'main', item: 0, movement: 'side-plank' });
  });
  it('P200 comes worst first', () => {
    const found = check(around([main({ items: moves('gone', 'jumping-jack', 'squat') })], { slot: 300 }), library).map((f) => grades.indexOf(f.grade));
    expect(found).toEqual(found.toSorted());
    expect(found[0]).toBe(0);
  });
  it.each(groups)('P202 any random plan is checked for %s without throwing, in whole sentences, and a mend leaves a plan', (group) => {
    fc.assert(fc.property(plans, (p) => {
      for (const f of check(p, wide, { group, slotS: 600 })) {
        for (const text of [f.sentence, f.reason, f.source]) {
          expect(text).not.toMatch(/undefined|NaN|null|Infinity|\[object|\s{2}|^\s|\(\)|""|: :|\.\./);
          expect(text.trim().length).toBeGreaterThan(10);
        }
        expect(f.sentence).toMatch(/^[A-Z0-9"].*[.?]$/);
        expect(p.sections.some((s) => s.id === f.where.section) || f.where.section === undefined).toBe(true);
        if (f.mend) planSchema.parse(applyEdits(p, f.mend.edits));
      }
    }), { numRuns: 60 });
  });
  it('P202 the longest plan that can run is checked in under 20 ms', () => {
    const kinds = ['squat', 'plank', 'reverse-lunge', 'glute-bridge', 'jumping-jack', 'bird-dog'];
    const sections = Array.from({ length: 5 }, (_, k) => main({ id: `m${k}`, rounds: 3, work: 6, rest: 4, show: 'none', items: Array.from({ length: 60 }, (_, i) => ({ movement: kinds[i % 6] as string })) }));
    const p = around(sections);
    expect(compile(p, factsOfLibrary(library)).intervals.length).toBeGreaterThan(1_800);
    expect(check(p, library).filter((f) => f.grade === 'cannot run').length).toBe(0);
    // Time on the processor, and the quickest: other tests share it.
    const times = Array.from({ length: 15 }, () => {
      const from = process.cpuUsage();
      check(p, library);
      return process.cpuUsage(from).user / 1_000;
    });
    expect(Math.min(...times)).toBeLessThan(20);
  });
  it('P204 what concerns a group asks first and gives way to licensed practice', () => {
    for (const id of ['impact-in-pregnancy', 'pregnancy-on-the-back', 'pregnancy-face-down', 'impact-for-older-adults', 'impact-when-returning']) {
      const found = check((examples[id] as { bad: ReturnType<typeof plan> }).bad, library).filter((f) => f.id === id);
      expect(found.length, id).toBeGreaterThan(0);
      for (const f of found) expect(f.sentence).toContain(ASK_FIRST);
    }
  });
  it.each(Object.entries(examples).filter(([id, { bad }]) => check(bad, library).some((f) => f.id === id && f.mend)))('P205 taking the mend of %s answers it', (id, { bad }) => {
    const all = check(bad, library).filter((f) => f.id === id);
    const mended = all.toReversed().reduce((p, f) => (f.mend ? applyEdits(p, f.mend.edits) : p), bad);
    expect(check(mended, library).filter((f) => f.id === id).length).toBeLessThan(all.length);
  });
  it('P206 no shipped plan holds anything that cannot run, and little to think about', () => {
    for (const p of shipped) {
      const found = check(p, library);
      expect(found.filter((f) => f.grade === 'cannot run'), p.id).toEqual([]);
      expect(found.filter((f) => f.grade === 'think again').map((f) => f.sentence), p.id).toEqual([]);
    }
  });
});

describe('what is shown', () => {
  const bad = around([main({ items: moves('gone', 'gone-too', 'jumping-jack', 'reverse-lunge') })], { slot: 300, group: 'older-adults' });
  it('P201 is all that cannot run and three of the rest', () => {
    const found = check(bad, library);
    const s = shown(found);
    expect(s.findings.filter((f) => f.grade === 'cannot run')).toHaveLength(2);
    expect(s.findings).toHaveLength(5);
    expect(s.more).toBe(found.length - 5);
  });
  it('P201 is without what was waived with a reason; the waiver is kept with the plan, fits after a new order, and is idle once nothing needs it', () => {
    const p = around([main({ rounds: 3, items: [{ movement: 'squat' }, { movement: 'side-plank', sides: 'by-round' }] })]);
    const f = check(p, library).find((x) => x.id === 'sides-uneven') as Finding;
    const kept = planSchema.parse(JSON.parse(JSON.stringify(waive(waive(p, f, 'first'), f, 'We do the left one at home'))));
    expect(kept.waived).toEqual([{ rule: 'sides-uneven', where: { section: 'main', movement: 'side-plank' }, reason: 'We do the left one at home' }]);
    const turned = applyEdits(kept, [{ do: 'order', section: 'main', order: [1, 0] }]);
    const s = shown(check(turned, library), turned.waived, 99);
    expect(ids(s.findings)).not.toContain('sides-uneven');
    expect(s.waived.map((w) => w.reason)).toEqual(['We do the left one at home']);
    expect(shown(check(around([main({ items: moves('squat') })]), library), kept.waived).idle).toHaveLength(1);
  });
  it('P201 holds what cannot run whatever is waived', () => {
    const found = check(bad, library);
    const s = shown(found, [{ rule: 'movement-unknown', where: {}, reason: 'no' }]);
    expect(s.findings.filter((f) => f.id === 'movement-unknown')).toHaveLength(2);
  });
  it('P207 a plan of a newer format says so, and older plans are read as they were', () => {
    const p = planSchema.safeParse({ format: 2, id: 'p', name: 'P', sections: [{ id: 'a', kind: 'welcome', talk: 60 }] });
    expect(p.error?.issues[0]?.message).toBe('this plan is of format 2, written by a newer Hallclock; this one reads format 1');
    for (const s of shipped) expect(Object.keys(s)).not.toContain('waived');
  });
});
