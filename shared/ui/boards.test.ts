/** Holds which boards of the floor are drawn. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planksOf, THINNEST_BOARD } from './boards.ts';

const floorOf = (lengths: readonly (readonly [section: number, ms: number])[]) => {
  let at = 0;
  const boards = lengths.map(([section, lengthMs], k) => {
    const board = { id: String(k), kind: 'work' as const, section, startMs: at, lengthMs };
    at += lengthMs;
    return board;
  });
  return { boards, lengthMs: at };
};
const sections = fc.array(fc.array(fc.integer({ min: 1, max: 90_000 }), { minLength: 1, maxLength: 30 }), { minLength: 1, maxLength: 6 })
  .map((all) => floorOf(all.flatMap((lengths, k) => lengths.map((ms) => [k, ms] as const))));

describe('boards', () => {
  it('V22 the boards drawn are the whole floor, without a gap, and none lies across two sections', () => {
    fc.assert(fc.property(sections, (floor) => {
      const planks = planksOf(floor);
      let at = 0;
      for (const p of planks) {
        expect(p.startMs).toBe(at);
        at += p.lengthMs;
        const under = floor.boards.filter((b) => b.startMs >= p.startMs && b.startMs < p.startMs + p.lengthMs);
        expect(new Set(under.map((b) => b.section))).toEqual(new Set([p.section]));
      }
      expect(at).toBe(floor.lengthMs);
    }));
  });

  it('V22 a board is too thin to see only where its whole section is', () => {
    fc.assert(fc.property(sections, (floor) => {
      for (const p of planksOf(floor)) {
        if (p.lengthMs >= floor.lengthMs * THINNEST_BOARD) continue;
        expect(planksOf(floor).filter((q) => q.section === p.section)).toHaveLength(1);
      }
    }));
  });
});
