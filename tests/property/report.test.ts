/** Holds the report of random classes: it adds up, keeps every planned interval in its order, and has words for all of it. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { report } from '../../shared/view/report.ts';
import { changeWords, markWords } from '../../shared/view/report-words.ts';
import { hold } from '../random/class.ts';
import { plans, presses } from '../random/plans.ts';

const seed = process.env.HALLCLOCK_SEED ? Number(process.env.HALLCLOCK_SEED) : undefined;

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
  }), { numRuns: 500, ...(seed === undefined ? {} : { seed }) });
});
