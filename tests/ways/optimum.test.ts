/**
 * Holds the ways to end on time to the optimum: against brute force on small
 * classes, and against a general integer solver on random ones (HiGHS 1.x compiled
 * to WebAssembly, npm package highs; Q. Huangfu and J. A. J. Hall, Parallelizing the
 * dual revised simplex method, Math. Prog. Comp. 10 (2018) 119-142).
 */
import fc from 'fast-check';
import loadHighs from 'highs';
import { describe, expect, it } from 'vitest';
import { finish } from '../../shared/session/finish.ts';
import { type Way, ways } from '../../shared/session/ways.ts';
import { between } from '../../shared/time/units.ts';
import { type Case, cases } from './cases.ts';
import { type Cell, type Problem, programme } from './oracle.ts';

/** All squeezes of one cell, one by one: the least loss that reaches the time, or null. */
function brute({ weight, coolDown }: Problem, cell: Cell, needMs: number): number | null {
  const items = [...cell.caps.entries()];
  let best: number | null = null;
  const go = (k: number, leftMs: number, coolS: number, loss: number): void => {
    if (best !== null && loss >= best) return;
    if (leftMs <= 0) { best = loss; return; }
    const item = items[k];
    if (!item) return;
    const [id, cap] = item;
    for (let take = 0; take <= (coolDown.has(id) ? Math.min(cap, coolS) : cap); take += 1) {
      go(k + 1, leftMs - take * 1_000, coolDown.has(id) ? coolS - take : coolS, loss + take * (weight.get(id) ?? 0));
    }
  };
  go(0, needMs - cell.savedMs, cell.coolDownS, cell.loss);
  return best;
}

const most = (p: Problem, c: Cell): number => {
  let [outside, inside] = [0, 0];
  for (const [id, cap] of c.caps) if (p.coolDown.has(id)) inside += cap; else outside += cap;
  return c.savedMs + (outside + Math.min(inside, c.coolDownS)) * 1_000;
};

/** What its cuts come to, added up one by one without the search: loss in hundredths. */
function lossOf({ s, problem }: Case, way: Way): number {
  const { command } = way;
  // Rounds that hold one movement only can be dropped as rounds or left out as a movement, which differ in loss.
  const cell = problem.cells.find((c) => (c.removed.length === 0 || c.kind === way.kind)
    && c.removed.length === command.removed.length && c.removed.every((id) => command.removed.includes(id)));
  const known = new Map(s.intervals.map((i) => [i.id, i]));
  let loss = cell?.loss ?? 0;
  let shared = false;
  for (const c of command.changes) {
    const i = known.get(c.interval);
    if (!i) throw new Error(c.interval);
    if (i.kind === 'work') { loss += -c.byMs; shared = true; } else if (c.byMs < 0) loss += (-c.byMs / 1_000) * (problem.weight.get(i.id) ?? 0);
  }
  return loss + (shared ? 2_000 : 0);
}

describe('ways to end on time', () => {
  it('F4 on small classes the best way has the loss that brute force finds, and each kind its own', () => {
    let [compared, fell] = [0, 0];
    fc.assert(fc.property(cases(2, 60), (c) => {
      if (!c || c.problem.cells.some((cell) => [...cell.caps.values()].reduce((n, cap) => n * (cap + 1), 1) > 2_000)) return;
      const offered = ways(c.s, c.at, 4);
      const least = new Map<string, number>();
      for (const cell of c.problem.cells) {
        const loss = brute(c.problem, cell, c.needMs);
        if (loss !== null) least.set(cell.kind, Math.min(loss, least.get(cell.kind) ?? Number.POSITIVE_INFINITY));
      }
      compared += 1;
      if (least.size === 0) {
        fell += 1;
        const reach = Math.max(...c.problem.cells.map((cell) => most(c.problem, cell)));
        expect(offered.map((w) => w.shortMs)).toEqual(reach > 0 ? [c.needMs - reach] : []);
        return;
      }
      expect(offered[0]?.loss).toBe(Math.min(...least.values()));
      for (const way of offered) expect([way.kind, way.loss, way.shortMs]).toEqual([way.kind, least.get(way.kind), 0]);
    }), { numRuns: 2_000 });
    expect([compared > 400, fell > 10]).toEqual([true, true]);
  });

  it('F5 on 500 random classes a general integer solver finds the same loss', async () => {
    const highs = await loadHighs();
    const gap = { mip_rel_gap: 0, mip_abs_gap: 0.5, output_flag: false } as const;
    let [solved, unsolved] = [0, 0];
    for (const c of fc.sample(cases(4, 400), { numRuns: 1_400 })) {
      if (!c || solved + unsolved >= 500) continue;
      const offered = ways(c.s, c.at);
      const answer = highs.solve(programme(c.problem, c.needMs), gap);
      if (answer.Status === 'Infeasible') {
        unsolved += 1;
        expect(offered.every((w) => w.shortMs > 0)).toBe(true);
        continue;
      }
      solved += 1;
      expect(answer.Status).toBe('Optimal');
      expect(offered[0]?.loss).toBe(Math.round(answer.ObjectiveValue));
    }
    expect([solved + unsolved, solved > 200, unsolved > 20]).toEqual([500, true, true]);
  });

  it('F6 the cuts of a way, carried out and added up, come to its loss and its end', () => {
    let told = 0;
    fc.assert(fc.property(cases(4, 300), (c) => {
      if (!c) return;
      for (const way of ways(c.s, c.at)) {
        told += 1;
        expect(lossOf(c, way)).toBe(way.loss);
        expect(between(way.endAt, finish(c.s, c.at).endAt) + way.shortMs).toBeGreaterThanOrEqual(c.needMs);
      }
    }), { numRuns: 1_000 });
    expect(told).toBeGreaterThan(500);
  });
});
