/** Holds the compiler against published interval protocols; the paper stands beside each. */
import { describe, expect, it } from 'vitest';
import { compile } from '../../shared/plan/compile.ts';
import type { FactsOf } from '../../shared/plan/facts.ts';
import { type PlanInput, planSchema, type Section } from '../../shared/plan/plan.ts';
import { startsMs, totals } from '../../shared/plan/totals.ts';

const standing = (name: string, sides: 'together' | 'each' = 'together') => ({ name, start: 'standing', end: 'standing', sides }) as const;
const facts: FactsOf = {
  jack: standing('Jumping jack'), burpee: standing('Burpee'), knees: standing('High knees'), split: standing('Split squat jump'),
  jump: standing('Squat jump'), climber: standing('Mountain climber'), walk: standing('Walk'), lunge: standing('Lunge', 'each'),
  ride: standing('Cycle'),
};

type SectionInput = PlanInput['sections'][number];
const compiled = (...sections: SectionInput[]) => {
  const plan = planSchema.parse({ format: 1, id: 'p', name: 'P', sections });
  const { intervals, added } = compile(plan, facts);
  const starts = startsMs(intervals);
  const work = intervals.flatMap((i, k) => (i.kind === 'work' ? [(starts[k] ?? 0) / 1_000] : []));
  return { intervals, added, totalS: totals(intervals).lengthMs / 1_000, workStartsS: work, workS: totals(intervals).byKind.work / 1_000 };
};
const main = (s: Partial<SectionInput> & Pick<SectionInput, 'items'>): SectionInput =>
  ({ id: 'main', kind: 'main', way: 'together', show: 'none', setUp: 0, ...s }) as SectionInput;
const moves = (...ids: string[]): Section['items'] => ids.map((movement) => ({ movement }));

describe('published protocols', () => {
  it('P20 11 minutes of body weight: 1 min of jacks, then 5 x (1 min + 1 min walking) is 11:00 (Archila et al. 2021, Int J Exerc Sci 14(3):93-100)', () => {
    const c = compiled(
      { id: 'warm', kind: 'warm-up', work: 60, show: 'none', items: moves('jack') },
      main({ work: 60, rest: 60, items: moves('burpee', 'knees', 'split', 'knees', 'jump') }),
    );
    expect(c.totalS).toBe(660);
    expect(c.workStartsS).toEqual([0, 60, 180, 300, 420, 540]);
  });

  it('P20 20 x (30 s + 30 s) is 20:00 with the trailing rest counted (Machado et al. 2022, Front Physiol 13:912890)', () => {
    const c = compiled(main({ work: 30, rest: 30, rounds: 5, items: moves('jack', 'burpee', 'climber', 'jump') }));
    expect(c.totalS).toBe(1_200);
    expect(c.workStartsS).toEqual(Array.from({ length: 20 }, (_, k) => k * 60));
  });

  it('P20 twelve stations of 30 s with 10 s between are 7:50, not seven minutes; 8:00 with a rest after the last (Klika & Jordan 2013, ACSM Health Fit J 17(3):8-13)', () => {
    const twelve = moves(...Array.from({ length: 12 }, () => 'jack'));
    expect(compiled(main({ work: 30, rest: 10, lastRest: false, items: twelve })).totalS).toBe(470);
    expect(compiled(main({ work: 30, rest: 10, items: twelve })).totalS).toBe(480);
    expect(compiled(main({ work: 30, rest: 5, lastRest: false, items: twelve })).totalS).toBe(415);
  });

  it('P20 P5 8 x 20 s / 10 s is 3:50 without the trailing rest and 4:00 with it; 160 s of work (Tabata et al. 1996, MSSE 28(10):1327-30; arithmetic)', () => {
    const eight = { work: 20, rest: 10, rounds: 8, items: moves('ride') };
    expect(compiled(main({ ...eight, lastRest: false })).totalS).toBe(230);
    expect(compiled(main(eight)).totalS).toBe(240);
    expect(compiled(main(eight)).workS).toBe(160);
    expect(compiled(main({ ...eight, rounds: 7, lastRest: false })).totalS).toBe(200);
    expect(compiled(main({ ...eight, rounds: 7 })).totalS).toBe(210);
  });

  it('P20 10 x 60 s / 60 s is 19:00 or 20:00 (Gibala 2015, Sports Science Exchange 139; arithmetic)', () => {
    expect(compiled(main({ work: 60, rest: 60, rounds: 10, lastRest: false, items: moves('ride') })).totalS).toBe(1_140);
    expect(compiled(main({ work: 60, rest: 60, rounds: 10, items: moves('ride') })).totalS).toBe(1_200);
  });

  it('P20 4 x 4 min with 3 min between is 25:00, 28:00 with the last 3 min (Tjonna et al. 2013, PLoS ONE 8:e65382; arithmetic)', () => {
    expect(compiled(main({ work: 240, rest: 180, rounds: 4, lastRest: false, items: moves('walk') })).totalS).toBe(1_500);
    expect(compiled(main({ work: 240, rest: 180, rounds: 4, items: moves('walk') })).totalS).toBe(1_680);
  });

  it('P20 4 to 6 x 30 s with 4.5 min of recovery are 15:30, 20:30 and 25:30 (Burgomaster et al. 2005, J Appl Physiol 98:1985, from memory; arithmetic)', () => {
    const n = (rounds: number) => compiled(main({ work: 30, rest: 270, rounds, lastRest: false, items: moves('ride') })).totalS;
    expect([4, 5, 6].map(n)).toEqual([930, 1_230, 1_530]);
  });

  it('P20 two sets of 5 x (60 s + 60 s) with 2 min between the sets hold 22 minutes (Bellissimo et al. 2022, Front Physiol 13:824154; press account)', () => {
    const set = { work: 60, rest: 60, items: moves('jack', 'burpee', 'climber', 'jump', 'knees') };
    const c = compiled(main(set), { id: 'water', kind: 'main', talk: 120 }, main({ ...set, id: 'second' }));
    expect(c.totalS).toBe(1_320);
  });
});

describe('the trade, common practice, no source', () => {
  it('P2 40/20 with 8 movements and 3 rounds is 24 minutes with nothing added', () => {
    const { setUp: _none, ...asTheBodyNeeds } = main({ work: 40, rest: 20, rounds: 3, items: moves('jack', 'burpee', 'knees', 'split', 'jump', 'climber', 'walk', 'jack') });
    const c = compiled(asTheBodyNeeds);
    expect(c.totalS).toBe(1_440);
    expect(c.added).toEqual([]);
    expect(c.workStartsS).toEqual(Array.from({ length: 24 }, (_, k) => k * 60));
  });

  it('P6 30 s of work on one side at a time is 15 s a side, 35 s in all', () => {
    const c = compiled(main({ work: 30, items: moves('lunge') }));
    expect(c.intervals.map((i) => [i.kind, i.side, i.lengthMs])).toEqual([
      ['work', 'right', 15_000], ['other-side', 'left', 5_000], ['work', 'left', 15_000],
    ]);
    expect(c.totalS).toBe(35);
  });

  it('P20 three warm-up movements, three rounds of three and three cool-down movements of 30 s hold 7 min 30 s of timed work', () => {
    const three = moves('jack', 'walk', 'lunge');
    const c = compiled(
      { id: 'w', kind: 'warm-up', work: 30, items: three },
      { id: 'm', kind: 'main', work: 30, rest: 15, rounds: 3, items: three },
      { id: 'c', kind: 'cool-down', work: 30, items: three },
    );
    expect(c.workS).toBe(450);
  });
});
