/** Holds the demo studio: every plan and movement that ships can run and fits its slot. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Library, movementSchema } from '../../shared/movement/movement.ts';
import { compile } from '../../shared/plan/compile.ts';
import { factsOf } from '../../shared/plan/facts.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import { problemsOf } from '../../shared/plan/problems.ts';
import { totals } from '../../shared/plan/totals.ts';

const media = new URL('../../media/', import.meta.url);
const read = (folder: string): unknown[] => readdirSync(new URL(folder, media))
  .filter((f) => f.endsWith('.json'))
  .map((f) => JSON.parse(readFileSync(new URL(folder + f, media), 'utf8')));
const library: Library = new Map(read('movements/').map((m) => movementSchema.parse(m)).map((m) => [m.id, m]));
const facts = Object.fromEntries([...library.values()].map((m) => [m.id, factsOf(m)]));
const plans = read('plans/').map((p) => planSchema.parse(p));

describe('the demo studio', () => {
  it('P19 has at least four plans of 15 to 45 minutes and 24 movements', () => {
    expect(library.size).toBeGreaterThanOrEqual(24);
    expect(plans.length).toBeGreaterThanOrEqual(4);
  });
  it.each(plans.map((p) => [p.id, p] as const))('P19 %s can run, has every part of a class and fits its slot', (_id, plan) => {
    expect(problemsOf(plan, facts)).toEqual([]);
    const minutes = totals(compile(plan, facts).intervals).lengthMs / 60_000;
    expect(minutes).toBeGreaterThanOrEqual(13);
    expect(minutes).toBeLessThanOrEqual((plan.slot ?? 0) / 60);
    expect(minutes).toBeGreaterThanOrEqual((plan.slot ?? 0) / 60 * 0.85);
    expect(new Set(plan.sections.map((s) => s.kind))).toEqual(new Set(['welcome', 'warm-up', 'main', 'cool-down', 'clear-up']));
    expect(plan.sections.some((s) => s.items.some((i) => facts[i.movement]?.sides === 'each'))).toBe(true);
  });
});
