/** Owns random edits of a plan, as somebody makes them at a desk: each leaves a plan. */
import fc from 'fast-check';
import { type Item, type Plan, planSchema, type Section } from '../../shared/plan/plan.ts';

type Change = (p: Plan) => unknown;
const n = fc.nat(5);
const movements = fc.constantFrom('squat', 'lunge', 'bridge', 'plank', 'march');
const seconds = fc.integer({ min: 3, max: 30 });

const section = (k: number, change: (s: Section) => unknown): Change => (p) => ({ ...p, sections: p.sections.map((s, i) => (i === k % p.sections.length ? change(s) : s)) });
const items = (k: number, change: (list: readonly Item[]) => readonly Item[]): Change => section(k, (s) => ({ ...s, items: change(s.items) }));
const without = <T>(list: readonly T[], k: number): T[] => list.filter((_, i) => i !== k % Math.max(1, list.length));
const put = <T>(list: readonly T[], k: number, one: T): T[] => [...list.slice(0, k), one, ...list.slice(k)];

const change: fc.Arbitrary<Change> = fc.oneof(
  fc.constantFrom('Spring', 'Autumn').map((name): Change => (p) => ({ ...p, name })),
  fc.constantFrom('Water', 'Mats', undefined).map((note): Change => ({ note: _old, ...p }) => (note === undefined ? p : { ...p, note })),
  fc.constantFrom(1_800, 2_700).map((slot): Change => (p) => ({ ...p, slot })),
  fc.tuple(fc.constantFrom('sides-uneven', 'cool-down'), fc.constantFrom('I know', 'They know')).map(([rule, reason]): Change => (p) =>
    ({ ...p, waived: [...(p.waived ?? []).filter((w) => w.rule !== rule), { rule, where: {}, reason }] })),
  fc.tuple(n, seconds).map(([k, work]) => section(k, (s) => ({ ...s, work }))),
  fc.tuple(n, seconds).map(([k, rest]) => section(k, (s) => ({ ...s, rest }))),
  fc.tuple(n, fc.integer({ min: 1, max: 4 })).map(([k, rounds]) => section(k, (s) => ({ ...s, rounds }))),
  fc.tuple(n, seconds).map(([k, talk]) => section(k, (s) => ({ ...s, talk, items: [] }))),
  fc.tuple(n, n, movements).map(([k, at, movement]) => items(k, (list) => put(list, at % (list.length + 1), { movement }))),
  fc.tuple(n, n).map(([k, at]) => items(k, (list) => without(list, at))),
  fc.tuple(n, n, movements).map(([k, at, movement]) => items(k, (list) => list.map((x, i) => (i === at % list.length ? { movement } : x)))),
  fc.tuple(n, n, seconds).map(([k, at, work]) => items(k, (list) => list.map((x, i) => (i === at % list.length ? { ...x, work } : x)))),
  fc.tuple(n, n, seconds).map(([k, at, rest]) => items(k, (list) => list.map((x, i) => (i === at % list.length ? { ...x, rest } : x)))),
  fc.tuple(n, n).map(([k, at]) => items(k, (list) => { const x = list[k % Math.max(1, list.length)]; return x ? put(without(list, k), at % list.length, x) : list; })),
  n.map((k): Change => (p) => ({ ...p, sections: without(p.sections, k) })),
  fc.tuple(n, n).map(([k, at]): Change => (p) => { const x = p.sections[k % p.sections.length] as Section; return { ...p, sections: put(without(p.sections, k), at % p.sections.length, x) }; }),
  fc.tuple(n, fc.constantFrom('new-a', 'new-b', 'new-c'), seconds).map(([at, id, talk]): Change => (p) => ({ ...p, sections: put(p.sections, at % (p.sections.length + 1), { id, kind: 'welcome', talk } as Section) })),
);

/** Several changes one after the other; one that would leave no plan is not made. */
export const edits: fc.Arbitrary<(p: Plan) => Plan> = fc.array(change, { maxLength: 5 }).map((changes) => (p) =>
  changes.reduce((now, c) => { const parsed = planSchema.safeParse(c(now)); return parsed.success ? parsed.data : now; }, p));
