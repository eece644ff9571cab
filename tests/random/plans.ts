/** Owns random plans of every way and random hands on the phone, for property tests and the simulation. */
import fc from 'fast-check';
import type { FactsOf } from '../../shared/plan/facts.ts';
import { type Plan, type PlanInput, planSchema } from '../../shared/plan/plan.ts';

const phrases = { left: 'left leg back', right: 'right leg back' };
/** A small library with every kind of position and side. */
export const facts: FactsOf = {
  march: { name: 'March', start: 'standing', end: 'standing', sides: 'alternating', tempoS: 1 },
  squat: { name: 'Squat', start: 'standing', end: 'standing', sides: 'together', tempoS: 3, leastS: 5 },
  lunge: { name: 'Lunge', start: 'standing', end: 'standing', sides: 'each', tempoS: 3, leastS: 3, phrases },
  bridge: { name: 'Bridge', start: 'face-up', end: 'face-up', sides: 'together', tempoS: 4, leastS: 4 },
  plank: { name: 'Plank', start: 'plank', end: 'face-down', sides: 'together' },
  clam: { name: 'Clam', start: 'side-lying', end: 'side-lying', sides: 'each', tempoS: 3, phrases },
  'bird-dog': { name: 'Bird dog', start: 'all-fours', end: 'all-fours', sides: 'alternating', tempoS: 4 },
  'chair-march': { name: 'Chair march', start: 'chair', end: 'chair', sides: 'alternating', tempoS: 1 },
  rise: { name: 'Sit to stand', start: 'chair', end: 'standing', sides: 'together', tempoS: 3 },
};
const ids = Object.keys(facts);

const some = <T>(arb: fc.Arbitrary<T>) => fc.option(arb, { nil: undefined, freq: 2 });
const defined = <T extends object>(o: T): T => Object.fromEntries(Object.entries(o).filter(([, v]) => v !== undefined)) as T;
const seconds = fc.integer({ min: 3, max: 16 });

const timing = {
  rest: some(fc.integer({ min: 0, max: 14 })),
  setUp: some(fc.constantFrom(0, 3, 6)),
  ends: some(fc.constantFrom('clock' as const, 'go' as const)),
  target: some(fc.record({ of: fc.constantFrom('reps' as const, 'breaths' as const), n: fc.integer({ min: 2, max: 12 }) })),
  sides: some(fc.constantFrom('together' as const, 'alternating' as const, 'half' as const, 'full' as const, 'by-round' as const)),
  lead: some(fc.constantFrom('right' as const, 'left' as const, 'changes' as const)),
};
const item = fc
  .record({ movement: fc.constantFrom(...ids), work: some(seconds), ...timing, show: some(fc.boolean()) })
  .map(defined);

const rounds = fc.oneof(
  { weight: 4, arbitrary: fc.integer({ min: 1, max: 3 }) },
  { weight: 1, arbitrary: fc.record({ seconds: fc.array(seconds, { minLength: 1, maxLength: 3 }) }) },
);
const laddered = fc.oneof(
  { weight: 4, arbitrary: rounds },
  { weight: 1, arbitrary: fc.record({ reps: fc.array(fc.integer({ min: 2, max: 8 }), { minLength: 1, maxLength: 3 }) }) },
);

const section = fc.oneof(
  { weight: 1, arbitrary: fc.record({ kind: fc.constantFrom('welcome' as const, 'clear-up' as const), talk: fc.integer({ min: 5, max: 30 }) }) },
  {
    weight: 4,
    arbitrary: fc.record({
      kind: fc.constantFrom('warm-up' as const, 'main' as const, 'cool-down' as const), way: fc.constant('together' as const), rounds: laddered,
      work: seconds, ...timing, show: some(fc.constantFrom('none' as const, 'each' as const, 'all-first' as const, 'in-the-rest' as const)),
      showEstimate: fc.integer({ min: 5, max: 20 }), lastRest: fc.boolean(), items: fc.array(item, { minLength: 1, maxLength: 4 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constantFrom('warm-up' as const, 'main' as const), way: fc.constantFrom('follow-me' as const, 'stations' as const), rounds,
      work: seconds, rest: fc.integer({ min: 0, max: 14 }), items: fc.array(item, { minLength: 2, maxLength: 4 }),
    }),
  },
).map(defined);

/** Whole seconds only, so that a model in ticks of 100 ms can follow. */
export const plans: fc.Arbitrary<Plan> = fc
  .record({
    group: fc.constantFrom('general' as const, 'beginners' as const, 'older-adults' as const),
    sections: fc.array(section, { minLength: 1, maxLength: 4 }),
  })
  .map(({ group, sections }) => planSchema.parse({
    format: 1, id: 'random', name: 'Random', group, sections: sections.map((s, i) => ({ id: `s${i}`, ...s })),
  } as PlanInput));

export const kinds = [
  'go', 'wait', 'pause', 'carry-on', 'again', 'move-on', 'change-sides', 'extend', 'shorten', 'even-up', 'note', 'head-count', 'end',
  'keep-moving', 'stop', 'answer-stop', 'stamp-stop', 'to-paused',
  'drop-round', 'add-round', 'leave-out', 'change', 'insert-break', 'lengthen-show', 'repeat', 'to-cool-down', 'take-way', 'undo',
] as const;
/** Those that change the list of intervals. */
const changing: readonly string[] = kinds.slice(kinds.indexOf('drop-round')).filter((k) => k !== 'to-cool-down');
export const isChange = (kind: string): boolean => changing.includes(kind);
export type Kind = (typeof kinds)[number];

/** One hand on the phone: after so many ticks of 100 ms, this; sometimes meaning a moment that has passed. */
export interface Press { readonly ticks: number; readonly kind: Kind; readonly n: number; readonly stale: boolean }

const often = fc.oneof(
  { weight: 6, arbitrary: fc.constant('go' as Kind) },
  { weight: 18, arbitrary: fc.constantFrom(...kinds.filter((k) => k !== 'end' && k !== 'to-cool-down' && !k.endsWith('stop') && k !== 'to-paused')) },
  // A stop refuses nearly all else, so it is seldom and the way back is often.
  { weight: 1, arbitrary: fc.constantFrom<Kind[]>('stop', 'stop', 'answer-stop', 'stamp-stop') },
  { weight: 4, arbitrary: fc.constant('to-paused' as Kind) },
  { weight: 1, arbitrary: fc.constantFrom(...kinds) },
);
export const presses: fc.Arbitrary<Press[]> = fc.array(
  fc.record({ ticks: fc.integer({ min: 0, max: 90 }), kind: often, n: fc.integer({ min: 1, max: 20 }), stale: fc.boolean() })
    .map((p) => ({ ...p, stale: p.stale && p.n % 7 === 0 })),
  { minLength: 12, maxLength: 60 },
);
