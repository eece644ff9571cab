/**
 * Owns random classes that have something to give: a warm-up, one or two mains
 * with rounds, rests and shows, and a cool-down, some of them long; after a few
 * presses each is promised to be over some seconds before it will be.
 */
import fc from 'fast-check';
import { type Plan, type PlanInput, planSchema } from '../../shared/plan/plan.ts';
import { finish } from '../../shared/session/finish.ts';
import type { Session } from '../../shared/session/session.ts';
import { settle } from '../../shared/session/settle.ts';
import { after, type ServerAt } from '../../shared/time/units.ts';
import { hold } from '../random/class.ts';
import { facts, presses } from '../random/plans.ts';
import { type Problem, problemOf } from './oracle.ts';

export interface Case { readonly s: Session; readonly at: ServerAt; readonly needMs: number; readonly problem: Problem }

const movement = fc.constantFrom(...Object.keys(facts));
const main = (most: number) => fc.record({
  way: fc.constantFrom('together' as const, 'together' as const, 'together' as const, 'stations' as const, 'follow-me' as const),
  rounds: fc.integer({ min: 1, max: most }), work: fc.integer({ min: 10, max: 40 }), rest: fc.integer({ min: 0, max: 30 }),
  showEstimate: fc.integer({ min: 5, max: 25 }), lastRest: fc.boolean(),
  sides: fc.constantFrom(undefined, undefined, 'full' as const, 'by-round' as const), setUp: fc.constantFrom(undefined, undefined, 0, 12),
  show: fc.constantFrom(undefined, 'each' as const, 'all-first' as const, 'in-the-rest' as const),
  items: fc.array(fc.record({
    movement, rest: fc.constantFrom(undefined, undefined, 25), ends: fc.constantFrom(undefined, undefined, undefined, 'go' as const),
    target: fc.constantFrom(undefined, undefined, undefined, { of: 'reps' as const, n: 12 }),
  }), { minLength: 2, maxLength: most + 1 }),
});

const plans = (most: number): fc.Arbitrary<Plan> => fc.record({
  group: fc.constantFrom('general' as const, 'older-adults' as const),
  mains: fc.array(main(most), { minLength: 1, maxLength: 2 }),
  coolDown: fc.record({ work: fc.integer({ min: 20, max: 120 }), rest: fc.integer({ min: 0, max: 20 }), show: fc.constantFrom('none' as const, 'each' as const), items: fc.array(fc.record({ movement }), { minLength: 1, maxLength: 3 }) }),
}).map(({ group, mains, coolDown }) => planSchema.parse(JSON.parse(JSON.stringify({
  format: 1, id: 'ways', name: 'Ways', group, sections: [
    { id: 'w', kind: 'welcome', talk: 20 },
    ...mains.map((m, k) => ({ id: `m${k}`, kind: 'main', ...m })),
    { id: 'c', kind: 'cool-down', ...coolDown },
  ],
})) as PlanInput));

/** @param most rounds and, less one, movements @param longest seconds that the class is late at most */
export const cases = (most: number, longest: number): fc.Arbitrary<Case | null> =>
  fc.tuple(plans(most), presses, fc.integer({ min: 1, max: longest * 1_000 }), fc.integer({ min: 0, max: 20 })).map(([plan, hands, needMs, few]) => {
    const h = hold(plan);
    for (const press of hands.slice(0, few)) {
      if (press.kind !== 'end' && press.kind !== 'to-cool-down') h.press(press);
      h.wait(press.ticks * 100);
    }
    const settled = settle(h.session, h.at);
    // While a class stands stopped nothing is offered; its way on is to the pause first.
    if (settled.over || settled.pause?.stop) return null;
    const s = { ...settled, promisedAt: after(finish(settled, h.at).endAt, -needMs) };
    return { s, at: h.at, needMs, problem: problemOf(s, s.anchor.index) };
  });
