/** Holds the counting of flashes, and what can be read from where, to cases that are known. */
import { describe, expect, it, vi } from 'vitest';
import { overHeadMm, reachOf } from '../../display/src/set-up/reach.ts';
import { loadOwn, saveOwn, usual, withAsked } from '../../display/src/set-up/own.ts';
import { SCALE_MOST, scaleFor } from '../../shared/ui/wall/legibility.ts';
import { type Frame, worstSecond } from './flashes.ts';
import { arcMinutes, contrast, luminance, rgb } from './vision.ts';

/** Two seconds at 50 pictures a second; `hz` flashes a second over a share of a hundred cells. */
const flashing = (hz: number, share: number, low = 0.1, high = 0.9): Frame[] => Array.from({ length: 100 }, (_, k) => ({
  atMs: k * 20, cells: Array.from({ length: 100 }, (__, c) => (c < share * 100 && Math.floor((k * 20 * hz * 2) / 1_000) % 2 === 1 ? high : low)),
}));

describe('flashes', () => {
  it('V406 are counted as WCAG 2.2 counts them: pairs of opposing changes of a tenth, the darker under 0.8, over the share that counts', () => {
    expect(worstSecond(flashing(5, 1), 0.05).flashes).toBe(5);
    expect(worstSecond(flashing(3, 0.5), 0.05).flashes).toBe(3);
    expect(worstSecond(flashing(5, 0.04), 0.05).flashes).toBe(0);
    expect(worstSecond(flashing(5, 1, 0.5, 0.59), 0.05).flashes).toBe(0);
    expect(worstSecond(flashing(5, 1, 0.81, 1), 0.05).flashes).toBe(0);
    const once: Frame[] = [0, 20, 40].map((atMs, k) => ({ atMs, cells: [k === 0 ? 0.1 : 0.9] }));
    expect(worstSecond(once, 0.05).flashes).toBe(0);
  });
});

describe('what can be read from where', () => {
  it('V407 follows the screen and the hall: larger in a larger one, said where it is too far, and heads hide what lies behind them', () => {
    expect(scaleFor(usual)).toBe(1);
    const large = { ...usual, diagonalInch: 75, farthestMatMm: 10_000 };
    expect(reachOf(large)).toMatchObject({ fewer: true, tooFar: false });
    expect(reachOf(large).wordsMm).toBeGreaterThanOrEqual(10_000);
    expect(reachOf(large).secondsMm).toBeGreaterThanOrEqual(9_999);
    expect(scaleFor({ diagonalInch: 32, farthestMatMm: 12_000 })).toBe(SCALE_MOST);
    expect(reachOf({ ...usual, diagonalInch: 32, farthestMatMm: 12_000 })).toMatchObject({ tooFar: true });
    // Similar triangles by hand: eyes at 1.55 m, 6 m away, over a head of 1.75 m at 2 m: 1.55 + 0.2 x 6 / 4 = 1.85 m.
    expect(overHeadMm(1_550, 6_000)).toBeCloseTo(1_850, 6);
    expect(reachOf({ ...usual, lowerEdgeMm: 1_850 }).hiddenStanding).toBeCloseTo(0, 6);
    expect(reachOf({ ...usual, lowerEdgeMm: 1_000 }).hiddenStanding).toBe(1);
  });

  it('V408 what a screen keeps comes back; what cannot be is not believed; the address comes first', () => {
    const kept = new Map<string, string>();
    vi.stubGlobal('localStorage', { getItem: (key: string) => kept.get(key) ?? null, setItem: (key: string, value: string) => kept.set(key, value) });
    expect(loadOwn()).toEqual(usual);
    saveOwn({ ...usual, diagonalInch: 43, light: 'dim' });
    expect(loadOwn()).toEqual({ ...usual, diagonalInch: 43, light: 'dim' });
    saveOwn({ ...usual, diagonalInch: 2 });
    expect(loadOwn()).toEqual(usual);
    vi.unstubAllGlobals();
    expect(withAsked(usual, '?theme=dim&overscan')).toEqual({ ...usual, light: 'dim', overscan: true });
  });
});

describe('eyes', () => {
  it('V401 see as published: black on white 21, #777777 on white 4.478; 38.4 mm at 6 m are 22 minutes of arc; grey stays grey to every eye', () => {
    expect(contrast([0, 0, 0], [255, 255, 255])).toBeCloseTo(21, 6);
    expect(contrast(rgb('#777777'), rgb('#ffffff'))).toBeCloseTo(4.478, 3);
    expect(arcMinutes(38.4, 6_000)).toBeCloseTo(22, 1);
    for (const as of ['protanopia', 'deuteranopia', 'tritanopia'] as const) expect(luminance([128, 128, 128], as)).toBeCloseTo(luminance([128, 128, 128]), 4);
  });
});
