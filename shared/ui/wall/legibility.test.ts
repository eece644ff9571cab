/** Holds the sizes of the screen to the back row. The figures and their sources stand beside each check. */
import { describe, expect, it } from 'vitest';
import { arcMm, fontUnits, SECONDS_ARC_MIN, SECONDS_TEXT, SMALLEST_TEXT, TEXT_ARC_MIN, unitPx, usualHall } from './legibility.ts';

describe('legibility', () => {
  it('V20 heights of capitals come out as NUREG-0700 rev. 2 (1.3.1-4) has them: distance x minutes x 6.283 / 21600', () => {
    expect(arcMm(3_000, 16)).toBeCloseTo(14, 1);
    expect(arcMm(6_000, 22)).toBeCloseTo(38.4, 1);
    expect(arcMm(10_000, 20)).toBeCloseTo(58.2, 1);
    expect(arcMm(12_000, 24)).toBeCloseTo(83.8, 1);
  });

  it('V20 in the usual hall the smallest text has 22 minutes of arc and the seconds have 2 degrees', () => {
    expect(SMALLEST_TEXT).toBeGreaterThanOrEqual(fontUnits(usualHall, TEXT_ARC_MIN));
    expect(SECONDS_TEXT).toBeGreaterThanOrEqual(fontUnits(usualHall, SECONDS_ARC_MIN));
  });

  it('V21 a unit is as many millimetres on every shape of screen with the same diagonal', () => {
    expect(unitPx(1_920, 1_080)).toBeCloseTo(10.8, 6);
    expect(unitPx(1_080, 1_920)).toBeCloseTo(10.8, 6);
    for (const [w, h] of [[1_024, 768], [1_280, 800], [1_280, 720]] as const) {
      expect(unitPx(w, h) / Math.hypot(w, h)).toBeCloseTo(10.8 / Math.hypot(1_920, 1_080), 9);
    }
  });
});
