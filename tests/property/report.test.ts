/** Holds the report of random classes: it adds up, keeps every planned interval in its order, and has words for all of it. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Plan, planSchema } from '../../shared/plan/plan.ts';
import { report } from '../../shared/view/report.ts';
import { changeWords, markWords } from '../../shared/view/report-words.ts';
import { hold } from '../random/class.ts';
import { type Press, plans, presses } from '../random/plans.ts';

/** Failed once: an interval that was put in, paused in, and taken out again kept nobody's 100 ms. */
const pausedInWhatWentOut = [
  planSchema.parse({
    format: 1, id: 'random', name: 'Random', group: 'general', sections: [
      {
        id: 's0', kind: 'main', way: 'together', rounds: { seconds: [3, 3] }, work: 3, rest: 0, target: { of: 'reps', n: 2 },
        showEstimate: 5, lastRest: false, items: [{ movement: 'march' }],
      },
      {
        id: 's1', kind: 'warm-up', way: 'follow-me', rounds: { seconds: [3] }, work: 3, rest: 0, showEstimate: 20,
        lastRest: true, items: [{ movement: 'march' }, { movement: 'march' }],
      },
    ],
  }),
  ([['change', 0], ['pause', 0], ['move-on', 0], ['again', 1], ['take-way', 0], ['go', 0]] as const)
    .map(([kind, ticks]) => ({ kind, ticks, n: 1, stale: false })),
] satisfies [Plan, Press[]];

it('V40 V48 V50 the report of any class adds up, keeps what was planned in its order, and names no interval "the end"', () => {
  fc.assert(fc.property(plans, presses, (plan, hands) => {
    const h = hold(plan);
    for (const press of hands) {
      h.wait(press.ticks * 100);
      h.press(press);
    }
    const r = report(h.events, h.at);
    const first = h.events[0];
    if (!r || first?.type !== 'started') throw new Error('no report');
    expect(r.rows.reduce((sum, x) => sum + (x.real?.lengthMs ?? 0) + x.countInMs + x.pausedMs, 0)).toBe(r.totalMs);
    expect(r.rows.filter((row) => row.planned).map((row) => row.interval.id)).toEqual(first.intervals.map((i) => i.id));
    expect(new Set(r.rows.map((row) => row.interval.id)).size).toBe(r.rows.length);
    // What is in the list stands in the rows in the order of the list.
    const listed = new Set(r.session.intervals.map((i) => i.id));
    expect(r.rows.map((row) => row.interval.id).filter((id) => listed.has(id))).toEqual(r.session.intervals.map((i) => i.id));
    for (const row of r.rows) for (const mark of row.marks) expect(markWords(mark)).not.toMatch(/^$|undefined|-\d|taken out/);
    for (const change of r.changes) {
      const words = changeWords(r, change);
      expect(words).not.toMatch(/undefined|: $|\bof $/);
      if (change.interval && change.event.type !== 'moved-on') expect(words).not.toContain('the end');
    }
  }), { numRuns: 500, examples: [pausedInWhatWentOut] });
});
