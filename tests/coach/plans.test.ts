/** Holds what the coach does with a whole plan: fitting, sums, order, the next session, templates. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { check } from '../../shared/coach/check.ts';
import { applyEdits } from '../../shared/coach/edit.ts';
import { fit as fitted } from '../../shared/coach/fit.ts';
import type { Lived } from '../../shared/coach/lived.ts';
import { leverOrder, nextSession, takeChanges } from '../../shared/coach/next.ts';
import { bestOrder, betterOrder, costOf, floorChanges } from '../../shared/coach/order.ts';
import { factsOfLibrary, study } from '../../shared/coach/study.ts';
import { sums } from '../../shared/coach/sums.ts';
import { templates } from '../../shared/coach/templates.ts';
import { type Library, type Movement, positions } from '../../shared/movement/movement.ts';
import { compile } from '../../shared/plan/compile.ts';
import type { Plan } from '../../shared/plan/plan.ts';
import { startsMs, totals } from '../../shared/plan/totals.ts';
import { plans } from '../random/plans.ts';
import { around, library, main, moves, plan, shipped } from './library.ts';

const facts = factsOfLibrary(library);
const lengthMs = (p: Plan): number => totals(compile(p, facts).intervals).lengthMs;
const workMs = (p: Plan, kind = 'main'): number => compile(p, facts).intervals.filter((i) => i.kind === 'work' && p.sections[i.section]?.kind === kind).reduce((a, i) => a + i.lengthMs, 0);

describe('fit to a slot', () => {
  it.each(shipped.flatMap((p) => [20, 30, 45].map((m) => [p.id, m, p] as const)))('P220 P221 %s in %i min', (_, minutes, p) => {
    const f = fitted(p, library, minutes * 60);
    expect(f.lengthMs).toBe(lengthMs(f.plan));
    if (f.exact) expect(f.lengthMs).toBe(minutes * 60_000);
    else expect(f.why).toMatch(/^It (is still|ends) .* (too long|early): .*\.$/);
    expect(f.plan.sections.map((s) => s.items.map((i) => i.movement))).toEqual(p.sections.map((s) => s.items.map((i) => i.movement)));
    expect(f.differences.length > 0).toBe(lengthMs(p) !== minutes * 60_000);
    const cool = (x: Plan) => workMs(x, 'cool-down');
    expect(cool(f.plan)).toBeGreaterThanOrEqual(Math.min(cool(p), 180_000));
  });
  it('P220 a class of 27:25 fits 30 min to the second and says how', () => {
    const f = fitted(around([main({ rounds: 3, items: moves('squat', 'push-up', 'standing-row-squeeze') })]), library, 1_500);
    expect(f.exact).toBe(true);
    expect(f.lengthMs).toBe(1_500_000);
    expect(f.differences.join(' ')).toMatch(/instead of/);
  });
  it('P221 work changes in steps of 5 s, of 10 s where sides share it', () => {
    for (const p of shipped) for (const minutes of [20, 25, 35]) {
      fitted(p, library, minutes * 60).plan.sections.forEach((s, k) => {
        const was = p.sections[k];
        if (s.kind !== 'main' || s.way === 'follow-me' || !was?.work || !s.work || s.work > was.work * 1.4) return;
        const least = Math.max(...s.items.map((i) => library.get(i.movement)?.leastS ?? 10));
        if (s.work > 2 * least) expect((s.work - was.work) % 5, `${p.id} ${minutes}`).toBe(0);
      });
    }
    const lunges = around([main({ rounds: 4, items: moves('reverse-lunge', 'squat', 'incline-push-up'), show: 'none' })]);
    const length = sums(lunges, library).lengthMs / 1_000;
    const f = fitted(lunges, library, length + 12 * 10);
    expect(f.plan.sections[2]).toMatchObject({ work: 50, rounds: 4 });
  });
  it('P335 seconds give first, shows and talk, then rests, then work; rounds change only where that does not reach', () => {
    const p = shipped.find((x) => x.id === 'forty-twenty') as Plan;
    const by = (s: number) => fitted(p, library, lengthMs(p) / 1_000 - s);
    const mainOf = (s: number) => { const m = by(s).plan.sections.find((x) => x.kind === 'main'); return [m?.rounds, m?.work, m?.rest, m?.showEstimate]; };
    expect([mainOf(60), mainOf(150), mainOf(300)]).toEqual([[3, 40, 20, 10], [3, 40, 20, 10], [3, 40, 10, 10]]);
    expect([by(60), by(150), by(300), by(480)].map((f) => f.exact)).toEqual([true, true, true, true]);
    // 8 min are more than 90 s of shows and talk, a minute of warm-up, 90 s of rest and what work may lose by its steps.
    expect(mainOf(480)[0]).toBe(2);
    for (const x of shipped) expect([x.id, fitted(x, library, lengthMs(x) / 1_000 - 60).plan.sections.map((s) => s.rounds)]).toEqual([x.id, x.sections.map((s) => s.rounds)]);
  });
  it('P220 what cannot be fitted says by how much', () => {
    expect(fitted(shipped.find((p) => p.id === 'eight-stations') as Plan, library, 600).why).toMatch(/^It is still .* too long: .*Take a movement out\.$/);
    expect(fitted(plan([main({ items: moves('squat') })]), library, 3_600).why).toMatch(/^It ends .* early: /);
  });
  it('P220 P221 any random plan: at the slot to the second or not, told; sides as even as they were', () => {
    const wide: Library = new Map([...library, ...['march', 'lunge', 'bridge', 'clam', 'rise'].map((id): [string, Movement] => [id, { ...(library.get('reverse-lunge') as Movement), id }])]);
    const uneven = (p: Plan): number => { const t = totals(compile(p, factsOfLibrary(wide)).intervals); return Math.abs(t.leftMs - t.rightMs); };
    fc.assert(fc.property(plans.filter((p) => !p.sections.some((s) => s.sides === 'by-round' || s.items.some((i) => i.sides === 'by-round'))), fc.integer({ min: 60, max: 1_200 }), (p, slot) => {
      const f = fitted(p, wide, slot);
      expect(f.exact || (f.why ?? '').length > 20).toBe(true);
      expect(f.exact).toBe(f.lengthMs === slot * 1_000);
      expect(uneven(p)).toBe(0);
      expect(uneven(f.plan)).toBe(0);
      for (const d of f.differences) expect(d).not.toMatch(/undefined|NaN/);
    }), { numRuns: 25 });
  }, 60_000);
});

describe('what a plan adds up to', () => {
  it('P230 time is that of the intervals, in all and by section', () => {
    for (const p of shipped) {
      const s = sums(p, library);
      const t = totals(compile(p, facts).intervals);
      expect(s.lengthMs).toBe(t.lengthMs);
      expect(s.workMs + s.restMs + s.showMs + s.talkMs + s.moveMs).toBe(s.lengthMs);
      expect(s.sections.reduce((a, x) => a + x.lengthMs, 0)).toBe(s.lengthMs);
      expect(s.byPattern.reduce((a, x) => a + x.ms, 0)).toBeCloseTo(s.workMs, 3);
      expect(s.leftMs).toBe(t.leftMs);
    }
  });
  it('P230 5 MET for 30 min at 77.1 kg are 202 kcal (MET x 3.5 x kg / 200; theprimecalculator.com), and a plan of squats at 5 MET agrees', () => {
    const s = sums(plan([main({ work: 1_800, rest: 0, show: 'none', setUp: 0, items: moves('squat') })]), library);
    expect(s.lengthMs).toBe(1_800_000);
    expect(s.energy.leastKcal / 50 * 77.1).toBeCloseTo(202.4, 1);
    expect(s.met).toEqual({ mean: 5, workMean: 5 });
    expect(s.words.source).toContain('2024 Adult Compendium');
    expect(s.words.energy).toBe('about 130 kcal at 50 kg to 260 at 100 kg');
  });
  it('P230 40/20 three times is 2 to 1, and the slot says what is left', () => {
    const s = sums(around([main({ rounds: 3, show: 'none', items: moves('squat') })], { slot: 1_200 }), library);
    expect(s.workToRest).toBeCloseTo(120 / 43, 2);
    expect(s.fits?.spareMs).toBe(1_200_000 - s.lengthMs);
    expect(s.words.length).toMatch(/ of 20 min$/);
  });
});

describe('a better order', () => {
  const permutations = (n: number): number[][] => n === 0 ? [[]] : permutations(n - 1).flatMap((p) => Array.from({ length: n }, (_, k) => [...p.slice(0, k), n - 1, ...p.slice(k)]));
  const orders = Array.from({ length: 8 }, (_, n) => permutations(n));
  it('P240 is as good as the best of every order, by brute force up to seven movements', () => {
    const position = fc.constantFrom(...positions);
    const places = fc.array(fc.record({ start: position, end: position, area: fc.constantFrom('a', 'b', 'c') }), { minLength: 2, maxLength: 7 });
    fc.assert(fc.property(places, position, position, fc.integer({ min: 1, max: 5 }), (list, before, after, rounds) => {
      const setting = { places: list, before, after, rounds };
      const found = costOf(setting, bestOrder(setting));
      const least = Math.min(...(orders[list.length] as number[][]).map((o) => costOf(setting, o)));
      expect(found).toBe(least);
    }), { numRuns: 60 });
  });
  it('P240 what it promises is what the class then has, and no movement is lost', () => {
    const ids = [...library.keys()];
    fc.assert(fc.property(fc.array(fc.constantFrom(...ids), { minLength: 2, maxLength: 12 }), fc.integer({ min: 1, max: 4 }), (items, rounds) => {
      const p = around([main({ rounds, items: moves(...items) })]);
      const better = betterOrder(p, library);
      if (!better) return;
      const turned = applyEdits(p, better.edits);
      expect(floorChanges(study(p, library))).toBe(better.from);
      expect(floorChanges(study(turned, library))).toBe(better.to);
      expect(better.to).toBeLessThan(better.from);
      expect(turned.sections[2]?.items.map((i) => i.movement).toSorted()).toEqual(items.toSorted());
      expect(better.exact).toBe(items.length <= 10);
    }), { numRuns: 80 });
  }, 60_000);
  it('P240 a warm-up keeps its order', () => {
    const p = plan([{ id: 'warm-up', kind: 'warm-up', work: 30, items: moves('march-in-place', 'cat-cow', 'hip-hinge', 'bird-dog') }]);
    expect(betterOrder(p, library)).toBe(null);
  });
});

describe('the next session', () => {
  const base = around([main({ rounds: 3, items: moves('squat', 'incline-push-up', 'reverse-lunge', 'standing-row-squeeze', 'bird-dog') })], { series: { name: 'Spring', number: 2 } });
  const well = (over: Partial<Lived['movements'][number]>[] = []): Lived => ({
    lateMs: 0, movements: (base.sections[2]?.items ?? []).map((i, item) => ({ section: 'main', item, movement: i.movement, plannedMs: 120_000, doneMs: 120_000, formPauses: 0, skipped: 0, ...over[item] })),
  });
  const load = (p: Plan): number => study(p, library).works.filter((w) => p.sections[w.section]?.kind === 'main').reduce((a, w) => a + w.ms * w.movement.intensity.met, 0);

  it.each(leverOrder)('P250 %s: one lever, at most a tenth more, each change in a sentence, each taken or left', (lever) => {
    const n = nextSession(base, library, well(), 5, { lever });
    expect(n.changes.length).toBeGreaterThan(0);
    expect(n.source).toContain('common practice, no source');
    for (const c of n.changes) expect(c.sentence).toMatch(/^[A-Z0-9].*\.$/);
    const more = n.changes.filter((c) => c.kind === 'more');
    const next = takeChanges(base, more);
    expect(load(next)).toBeLessThanOrEqual(load(base) * 1.1 + 1);
    expect(next.series).toEqual({ name: 'Spring', number: 3 });
    expect(next.id).toBe('p-3');
    const one = more[0];
    if (one) expect(takeChanges(base, [one]).sections).not.toEqual(base.sections);
    expect(takeChanges(base, []).sections).toEqual(base.sections);
  });
  it('P250 more seconds are 5 s each, 10 where sides share them; a fourth round would be a third more and says so', () => {
    const seconds = nextSession(base, library, well(), 5, { lever: 'seconds' }).changes;
    expect(seconds[0]?.sentence).toBe('Main: squat 45 s instead of 40 s.');
    const lunge = nextSession(base, library, well(), 5, { lever: 'seconds', ceiling: 0.5 }).changes;
    expect(lunge.map((c) => c.sentence)).toContain('Main: reverse lunge 50 s instead of 40 s, shared by both sides.');
    expect(nextSession(base, library, well(), 5, { lever: 'rounds', ceiling: 0.4 }).changes[0]?.sentence).toBe('Main: 4 rounds instead of 3.');
  });
  it('P251 an effort of 7 holds, one of 9 takes something away', () => {
    expect(nextSession(base, library, well(), 7, { lever: 'seconds' }).changes.map((c) => c.kind)).toEqual(['keep']);
    const ease = nextSession(base, library, well(), 9, { lever: 'seconds' }).changes;
    expect(ease.map((c) => [c.kind, c.sentence])).toEqual([['ease', 'Squat is the hardest movement that has an easier one. Do sit to stand next time.']]);
    expect(load(takeChanges(base, ease))).toBeLessThan(load(base));
  });
  it('P251 what was stopped for form or left out is mended, and nothing is added to it', () => {
    const n = nextSession(base, library, well([{ formPauses: 3 }, {}, {}, {}, { skipped: 1 }]), 5, { lever: 'seconds', ceiling: 0.5 });
    expect(n.changes.filter((c) => c.kind === 'mend').map((c) => c.sentence)).toEqual([
      'The class was stopped 3 times to correct squat. Do sit to stand until it goes well.',
      'Bird dog was left out once. Do it first in the round, so that it is not what time takes away.',
    ]);
    expect(n.changes.filter((c) => c.kind === 'more').map((c) => c.where.movement)).toEqual(['incline-push-up', 'reverse-lunge', 'standing-row-squeeze']);
    const next = takeChanges(base, n.changes);
    expect(next.sections[2]?.items.map((i) => i.movement)).toEqual(['bird-dog', 'chair-sit-to-stand', 'incline-push-up', 'reverse-lunge', 'standing-row-squeeze']);
  });
  it('P336 a lever that can do nothing under the ceiling says by how much, and the first other one that can is taken in its place', () => {
    const instead = nextSession(base, library, well(), 5, { lever: 'rounds' });
    expect(instead.changes[0]).toMatchObject({ kind: 'keep', edits: [], sentence: 'Main: 4 rounds instead of 3: that alone would be 33 % more, and 10 % is the ceiling. So it is more seconds this time.' });
    expect(instead.says).toBe('The effort was 5 of 10. One lever: more seconds, since more rounds cannot be had, at most 10 % more than last time.');
    expect(instead.changes.slice(1)).toEqual(nextSession(base, library, well(), 5, { lever: 'seconds' }).changes);
    const none = nextSession(base, library, well(), 5, { lever: 'rounds', ceiling: 0.001 });
    expect(none.changes.every((c) => c.edits.length === 0)).toBe(true);
    expect(none.changes[0]?.sentence).toMatch(/33 % more, and 0 % is the ceiling\. No other lever can be moved either: do it again as it is, or raise the ceiling\.$/);
  });
  it('P250 any shipped plan, lever, effort and past gives changes that make a plan', () => {
    fc.assert(fc.property(fc.constantFrom(...shipped), fc.constantFrom(...leverOrder), fc.option(fc.integer({ min: 0, max: 10 })), fc.double({ min: 0, max: 0.5, noNaN: true }), fc.infiniteStream(fc.nat(3)), (p, lever, effort, ceiling, chance) => {
      const last: Lived = { lateMs: 200_000, movements: p.sections.flatMap((s) => s.items.map((i, item) => ({ section: s.id, item, movement: i.movement, plannedMs: 1, doneMs: 1, formPauses: chance.next().value === 3 ? 2 : 0, skipped: chance.next().value === 2 ? 1 : 0 }))) };
      const n = nextSession(p, library, last, effort, { lever, ceiling });
      for (const c of n.changes) expect(`${c.sentence} ${n.says}`).not.toMatch(/undefined|NaN|Infinity/);
      expect(new Set(n.changes.map((c) => c.id)).size).toBe(n.changes.length);
      expect(takeChanges(p, n.changes).series?.number).toBe(2);
    }), { numRuns: 80 });
  });
});

describe('templates', () => {
  it.each(templates.map((t) => [t.title, t] as const))('P260 %s', (_, t) => {
    expect(check(t.plan, library).filter((f) => f.grade === 'cannot run')).toEqual([]);
    expect(t.cautions.length).toBeGreaterThan(0);
    expect(t.paper).toMatch(/\d{4}|no paper/);
    if (t.protocolS === 0) return;
    const { intervals } = compile(t.plan, facts);
    const starts = startsMs(intervals);
    const inside = intervals.flatMap((i, k) => (t.protocol.includes(t.plan.sections[i.section]?.id ?? '') ? [k] : []));
    const from = starts[intervals.findIndex((i, k) => inside.includes(k) && i.kind === 'work')] ?? 0;
    const last = inside.at(-1) as number;
    const end = (starts[last] ?? 0) + (intervals[last]?.lengthMs ?? 0);
    const section = t.plan.sections.find((s) => s.id === t.protocol.at(-1));
    const restMs = section?.lastRest ? (section.rest ?? 0) * 1_000 : 0;
    expect((end - from + restMs) / 1_000).toBe(t.protocolS);
  });
});

