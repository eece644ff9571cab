/** Holds effort to published figures, to the fixture that was worked out by hand, and to a general library of statistics. */
import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { kcalPerKg, kcalPerMinute, kcalRange, MASS_KG } from './energy.ts';
import { effortOf, sessionLoad, weekLoad } from './load.ts';
import { garwood, rateOf } from './rate.ts';
import { againstGuidelines, levelOf } from './week.ts';

const week = [300, 0, 420, 150, 0, 480, 90];

describe('effort', () => {
  it('E1 session load is rating times minutes of the whole class', () => {
    // Arithmetic of the definition (Foster 1998, 2001).
    expect([sessionLoad(7, 60), sessionLoad(9, 75), sessionLoad(3, 30), sessionLoad(6, 60)]).toEqual([420, 675, 90, 360]);
  });

  it('E2 weekly load, monotony and strain, with the sample\'s and the population\'s deviation', () => {
    // Own fixture, worked out by hand: no published table was found.
    const sample = weekLoad(week);
    expect(sample.total).toBe(1440);
    expect(sample.mean).toBeCloseTo(205.714, 3);
    expect(sample.deviation).toBeCloseTo(196.287, 3);
    expect(sample.monotony).toBeCloseTo(1.048, 4);
    expect(sample.strain).toBeCloseTo(1509.16, 2);
    const population = weekLoad(week, 'population');
    expect(population.deviation).toBeCloseTo(181.726, 3);
    expect(population.monotony).toBeCloseTo(1.132, 4);
    expect(population.strain).toBeCloseTo(1630.08, 2);
    expect((population.monotony ?? 0) / (sample.monotony ?? 1)).toBeCloseTo(Math.sqrt(7 / 6), 12);
  });

  it('E2 the deviation is that of a general library', () => {
    fc.assert(fc.property(fc.array(fc.integer({ min: 0, max: 900 }), { minLength: 7, maxLength: 7 }), (days) => {
      expect(weekLoad(days).deviation).toBeCloseTo(jstat.stdev(days, true), 8);
      expect(weekLoad(days, 'population').deviation).toBeCloseTo(jstat.stdev(days), 8);
    }));
  });

  it('E3 where every day is the same, monotony and strain are not defined and not infinite', () => {
    for (const days of [[0, 0, 0, 0, 0, 0, 0], [210, 210, 210, 210, 210, 210, 210], [0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1], [5], []]) {
      expect(weekLoad(days)).toMatchObject({ monotony: null, strain: null });
    }
  });

  it('E4 fewer than three answers have no mean', () => {
    expect(effortOf({})).toBeNull();
    expect(effortOf({ 4: 1, 7: 1 })).toBeNull();
    expect(effortOf({ 4: 1, 7: 2 })).toEqual({ answers: 3, mean: 6 });
    expect(effortOf({ 0: 3 })).toEqual({ answers: 3, mean: 0 });
  });

  it('E5 the Poisson interval is that of the published table', () => {
    // Exact 95 % limits as tabled by Garwood 1936 and Ulm 1990; from memory, and equal to the library's below.
    const table: [number, number, number][] = [
      [0, 0, 3.689], [1, 0.0253, 5.572], [2, 0.2422, 7.225], [3, 0.6187, 8.767], [5, 1.6235, 11.668], [10, 4.7954, 18.39], [20, 12.2165, 30.888], [50, 37.111, 65.919],
    ];
    for (const [n, low, high] of table) {
      expect(garwood(n).low).toBeCloseTo(low, 3);
      expect(garwood(n).high).toBeCloseTo(high, 3);
    }
  });

  it('E5 the Poisson interval is the chi-square form of a general library, at every level', () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 800 }), fc.constantFrom(0.5, 0.9, 0.95, 0.99), (n, level) => {
      const { low, high } = garwood(n, level);
      const tail = (1 - level) / 2;
      // Its quantile is found by Newton steps and good to about eight figures.
      if (n > 0) expect(Math.abs(low / (jstat.chisquare.inv(tail, 2 * n) / 2) - 1)).toBeLessThan(1e-6);
      expect(Math.abs(high / (jstat.chisquare.inv(1 - tail, 2 * n + 2) / 2) - 1)).toBeLessThan(1e-6);
    }));
  });

  it('E5 no time is no rate, and more time of the same is surer', () => {
    expect(rateOf(3, 0)).toBeNull();
    const [little, much] = [rateOf(2, 1), rateOf(20, 10)];
    expect([little?.rate, much?.rate]).toEqual([2, 2]);
    expect((much?.high ?? 0) - (much?.low ?? 0)).toBeLessThan((little?.high ?? 0) - (little?.low ?? 0));
  });

  it('E6 energy is the published formula, from the lightest to the heaviest body', () => {
    // Worked example of the ACE page: 10 MET, 68 kg.
    expect(kcalPerMinute(10, 68)).toBeCloseTo(11.9, 10);
    expect(kcalPerMinute(10, 68) * 30).toBeCloseTo(357, 10);
    // 5 MET, 77.1 kg, 30 min (theprimecalculator.com, which rounds to 203 from 77.11 kg).
    expect(kcalPerMinute(5, 77.1) * 30).toBeCloseTo(202.4, 1);
    expect(kcalPerMinute(8, 70)).toBeCloseTo(9.8, 10);
    const perKg = kcalPerKg([{ met: 7.5, minutes: 30 }, { met: 2.3, minutes: 10 }]);
    expect(perKg * 70).toBeCloseTo(275.6 + 28.2, 1);
    expect(kcalRange(perKg)).toEqual({ low: perKg * MASS_KG.low, high: perKg * MASS_KG.high });
  });

  it('E6 a measured session lies in the range', () => {
    // Machado et al. 2020, Motriz: 20 min of 30/30 body-weight work, 12 men, 251 +/- 27 kcal; 34 ml/kg/min is 9.7 MET.
    const { low, high } = kcalRange(kcalPerKg([{ met: 34 / 3.5, minutes: 20 }]));
    expect(low).toBeLessThan(251 - 27);
    expect(high).toBeGreaterThan(251 + 27);
  });

  it('E7 a week is held against 150 minutes, vigorous ones counted twice', () => {
    expect([levelOf(2.9), levelOf(3), levelOf(5.9), levelOf(6)]).toEqual(['light', 'moderate', 'moderate', 'vigorous']);
    const of = (moderateMin: number, vigorousMin: number) => againstGuidelines({ moderateMin, vigorousMin, muscleDays: 2, balanceDays: 0 });
    // WHO 2020 and US 2018: 150 moderate or 75 vigorous or a mix.
    expect([of(150, 0).share, of(0, 75).share, of(50, 50).share]).toEqual([1, 1, 1]);
    expect(of(40, 20)).toMatchObject({ minutes: 80, leftMin: 70, muscle: true, balance: false });
  });
});
