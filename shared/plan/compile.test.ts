import { describe, expect, it } from 'vitest';
import { compile } from './compile.ts';
import type { FactsOf } from './facts.ts';
import { type PlanInput, planSchema } from './plan.ts';
import { floorTimeMs, setUpNeedMs } from './positions.ts';
import { problemsOf } from './problems.ts';

const phrases = { left: 'left leg back', right: 'right leg back' };
const facts: FactsOf = {
  squat: { name: 'Squat', start: 'standing', end: 'standing', sides: 'together', tempoS: 3 },
  lunge: { name: 'Lunge', start: 'standing', end: 'standing', sides: 'each', phrases },
  bridge: { name: 'Bridge', start: 'face-up', end: 'face-up', sides: 'together' },
  twist: { name: 'Twist', start: 'standing', end: 'standing', sides: 'alternating' },
  clam: { name: 'Clam', start: 'side-lying', end: 'side-lying', sides: 'each', phrases },
};
type SectionInput = PlanInput['sections'][number];
const plan = (sections: SectionInput[], group: PlanInput['group'] = 'general') => planSchema.parse({ format: 1, id: 'p', name: 'P', group, sections });
const main = (s: Partial<SectionInput>): SectionInput => ({ id: 'm', kind: 'main', show: 'none', work: 30, items: [{ movement: 'squat' }], ...s });
const of = (...sections: SectionInput[]) => compile(plan(sections), facts);
const short = (...sections: SectionInput[]) => of(...sections).intervals.map((i) => `${i.kind}${i.side ? `:${i.side}` : ''} ${i.lengthMs / 1_000}${i.ends === 'go' ? ' go' : ''}`);
const two = [{ movement: 'squat' }, { movement: 'bridge' }];

describe('compile', () => {
  it('P2 the rest holds the set-up, and its set-up stands at its end', () => {
    expect(short(main({ rest: 20, items: two, lastRest: false }))).toEqual(['work 30', 'rest 12', 'set-up 8', 'work 30']);
  });
  it('P3 a rest shorter than the bodies need is made up, and the plan says how much and where', () => {
    const c = of(main({ rest: 5, items: two, lastRest: false }));
    expect(c.intervals.map((i) => i.lengthMs)).toEqual([30_000, 8_000, 30_000]);
    expect(c.added).toEqual([{ before: '0.1.1.work', ms: 3_000 }]);
  });
  it('P4 a rest that would be under 3 s becomes part of the set-up', () => {
    expect(short(main({ rest: 10, items: two, lastRest: false }))).toEqual(['work 30', 'set-up 10', 'work 30']);
  });
  it('P5 the last rest holds the set-up of the next section, and stands alone before talk and at the end', () => {
    expect(short(main({ rest: 20 }), main({ id: 'n', lastRest: false }))).toEqual(['work 30', 'rest 17', 'set-up 3', 'work 30']);
    expect(short(main({ rest: 20 }), { id: 't', kind: 'clear-up', talk: 60 })).toEqual(['work 30', 'rest 20', 'talk 60 go']);
    expect(short(main({ rest: 20 }))).toEqual(['work 30', 'rest 20']);
  });
  it('P6 half shares the work between the sides, full gives it to each; odd seconds stay whole milliseconds', () => {
    const sides = (way: 'half' | 'full', work: number) => short(main({ work, sides: way, items: [{ movement: 'lunge' }] }));
    expect(sides('half', 31)).toEqual(['work:right 15.5', 'other-side:left 5', 'work:left 15.5']);
    expect(sides('full', 30)).toEqual(['work:right 30', 'other-side:left 5', 'work:left 30']);
  });
  it('P7 the lead changes each round unless the plan says otherwise', () => {
    const firsts = (lead?: 'left' | 'right' | 'changes') => of(main({ rounds: 3, ...(lead ? { lead } : {}), items: [{ movement: 'lunge' }] }))
      .intervals.filter((i) => i.kind === 'work').filter((_, k) => k % 2 === 0).map((i) => i.side);
    expect(firsts()).toEqual(['right', 'left', 'right']);
    expect(firsts('left')).toEqual(['left', 'left', 'left']);
  });
  it('P8 by round works one side a round, in turns from the lead', () => {
    const sides = (lead: 'left' | 'changes') => of(main({ rounds: 3, sides: 'by-round', lead, items: [{ movement: 'lunge' }] }))
      .intervals.filter((i) => i.kind === 'work').map((i) => `${i.side} ${i.pair}`);
    expect(sides('changes')).toEqual(['right 0.0', 'left 0.0', 'right 0.0']);
    expect(sides('left')).toEqual(['left 0.0', 'right 0.0', 'left 0.0']);
  });
  it('P9 sides that the plan does not name are as the movement is done', () => {
    expect(short(main({ work: 20, items: [{ movement: 'lunge' }] }))).toEqual(['work:right 10', 'other-side:left 5', 'work:left 10']);
    expect(of(main({ items: [{ movement: 'twist' }] })).intervals[0]?.alternating).toBe(true);
    expect(short(main({ items: [{ movement: 'squat' }] }))).toEqual(['work 30']);
  });
  it('P10 each movement of main is shown before its first round and nothing else is, unless said', () => {
    const { show: _, ...byDefault } = main({ rounds: 2, rest: 20, items: two });
    expect(short(byDefault).filter((i) => i.startsWith('show'))).toEqual(['show 20 go', 'show 20 go']);
    expect(of(byDefault).intervals.filter((i) => i.kind === 'show').map((i) => i.round)).toEqual([1, 1]);
    expect(short({ ...byDefault, kind: 'warm-up' }).some((i) => i.startsWith('show'))).toBe(false);
    expect(short({ ...byDefault, items: [{ movement: 'squat', show: false }, { movement: 'bridge' }] }).filter((i) => i.startsWith('show'))).toHaveLength(1);
  });
  it('P11 all first shows before the section; in the rest the show fills the rest that is there', () => {
    expect(short(main({ show: 'all-first', items: two, rest: 20, lastRest: false }))).toEqual([
      'show 20 go', 'show 20 go', 'set-up 3', 'work 30', 'rest 12', 'set-up 8', 'work 30',
    ]);
    expect(short(main({ show: 'in-the-rest', items: two, rest: 20, lastRest: false }))).toEqual([
      'show 20 go', 'set-up 3', 'work 30', 'show 12', 'set-up 8', 'work 30',
    ]);
  });
  it('P12 a ladder gives each round its seconds, or its count that ends on go', () => {
    expect(short(main({ rounds: { seconds: [20, 30, 20] }, setUp: 0 }))).toEqual(['work 20', 'work 30', 'work 20']);
    const { work: _w, ...counts } = main({ rounds: { reps: [5, 10] }, setUp: 0 });
    const c = of(counts);
    expect(c.intervals.map((i) => [i.ends, i.target?.n, i.lengthMs])).toEqual([['go', 5, 15_000], ['go', 10, 30_000]]);
  });
  it('P13 a target ends on go and its seconds are an estimate', () => {
    expect(of(main({ target: { of: 'breaths', n: 5 } })).intervals[0]).toMatchObject({ ends: 'go', lengthMs: 30_000, target: { of: 'breaths', n: 5 } });
  });
  it('P14 a follow-me block is one interval with prompts', () => {
    expect(of(main({ way: 'follow-me', work: 120, items: two })).intervals).toMatchObject([{ kind: 'work', lengthMs: 120_000, prompts: ['squat', 'bridge'] }]);
  });
  it('P15 stations make a turn for each movement and round, and move round between', () => {
    const c = of(main({ way: 'stations', rounds: 2, rest: 15, items: two, lastRest: false }));
    expect(c.intervals.filter((i) => i.kind === 'work').map((i) => i.stations?.turn)).toEqual([0, 1, 2, 3]);
    expect(c.intervals.map((i) => `${i.kind} ${i.lengthMs / 1_000}`)).toEqual([
      'set-up 8', 'work 30', 'rest 7', 'set-up 8', 'work 30', 'rest 7', 'set-up 8', 'work 30', 'rest 7', 'set-up 8', 'work 30',
    ]);
  });
  it('P16 getting to the floor takes longer than standing, and longest for older adults', () => {
    expect([setUpNeedMs('standing', 'standing', 'general'), setUpNeedMs('standing', 'all-fours', 'general'), setUpNeedMs('face-up', 'standing', 'general')])
      .toEqual([3_000, 6_000, 8_000]);
    for (const to of ['kneeling', 'face-up', 'side-lying'] as const) {
      expect(floorTimeMs(to, 'older-adults')).toBeGreaterThanOrEqual(10_000);
      expect(floorTimeMs(to, 'general')).toBeGreaterThanOrEqual(5_000);
      expect(floorTimeMs(to, 'general')).toBeLessThanOrEqual(8_000);
    }
  });
  it('P17 a first movement that stands begins at once; one on the floor has its floor time', () => {
    expect(short(main({}))[0]).toBe('work 30');
    expect(short(main({ items: [{ movement: 'bridge' }] }))[0]).toBe('set-up 8');
  });
  it('P18 names are single, lengths whole and never 0', () => {
    const c = of(main({ rounds: 3, rest: 20, show: 'each', items: [...two, { movement: 'lunge', work: 31.3 }] }), { id: 't', kind: 'main', talk: 30 }, main({ id: 'n', rest: 9 }));
    expect(new Set(c.intervals.map((i) => i.id)).size).toBe(c.intervals.length);
    for (const i of c.intervals) expect(Number.isInteger(i.lengthMs) && i.lengthMs > 0, i.id).toBe(true);
  });
});

describe('plans that cannot run', () => {
  it('P19 an unknown movement, and a class of more than four hours, are named', () => {
    expect(problemsOf(plan([main({ items: [{ movement: 'nope' }] })]), facts)).toEqual([
      { path: ['sections', 0, 'items', 0, 'movement'], sentence: 'the movement "nope" is not in the library (section 1, movement 1).' },
    ]);
    expect(problemsOf(plan([main({ work: 3_600, rounds: 5 })]), facts)[0]?.sentence).toBe('it is 300 minutes long; 240 is the most.');
    expect(problemsOf(plan([main({})]), facts)).toEqual([]);
  });
  it('P1 what is wrong is said with its place, and extra keys are refused', () => {
    const tell = (input: unknown) => planSchema.safeParse(input).error?.issues.map((i) => `${i.path.join('.')}: ${i.message}`) ?? [];
    expect(tell({ format: 1, id: 'p', name: 'P', sections: [{ id: 'm', kind: 'main', items: [{ movement: 'squat' }] }] }))
      .toEqual(['sections.0.items.0.work: seconds of work are missing, here and in the section']);
    expect(tell({ format: 1, id: 'p', name: 'P', extra: 1, sections: [main({})] })[0]).toContain('extra');
    for (const work of [0, -1, 0.05, Number.NaN, 1e308, 3_601]) expect(tell({ format: 1, id: 'p', name: 'P', sections: [main({ work })] }), String(work)).not.toEqual([]);
    expect(tell({ format: 1, id: 'p', name: 'P', sections: [main({}), main({})] })).toEqual(['sections.1.id: the section id "m" is used twice']);
  });
});
