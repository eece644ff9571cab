/** Holds the timetable, merging and reading plans from elsewhere. */
import { describe, expect, it } from 'vitest';
import { mergePlans } from '../../shared/plan/merge.ts';
import { type PlanInput, planSchema } from '../../shared/plan/plan.ts';
import { readPlanFile } from '../../shared/plan/read-file.ts';
import { dueIn, entrySchema, occurrences } from '../../shared/plan/timetable.ts';
import { serverAt } from '../../shared/time/units.ts';
import { dayOf, instantOf } from '../../shared/time/wall.ts';

const at = (iso: string) => serverAt(Date.parse(iso));
const entry = (more: object = {}) => entrySchema.parse({ id: 'wed', plan: 'first-steps', room: 'garden', day: '2026-11-25', at: '18:30', minutes: 45, weekly: true, ...more });
const BERLIN = 'Europe/Berlin';

describe('the timetable', () => {
  it('P302 runs at the time on the wall, across summer time and back', () => {
    const starts = occurrences([entry({ day: '2026-03-25', until: '2026-04-02' }), entry({ id: 'back', day: '2026-10-21', until: '2026-10-28' })], '2026-01-01', 365, BERLIN).map((o) => new Date(o.startAt).toISOString());
    expect(starts).toEqual(['2026-03-25T17:30:00.000Z', '2026-04-01T16:30:00.000Z', '2026-10-21T16:30:00.000Z', '2026-10-28T17:30:00.000Z']);
    expect(dayOf(at('2026-11-25T23:30:00Z'), BERLIN)).toBe('2026-11-26');
  });
  it('P302 a time that the clocks leap over is as much later, and one that comes twice is the first', () => {
    expect(new Date(instantOf('2026-03-29', '02:30', BERLIN)).toISOString()).toBe('2026-03-29T01:30:00.000Z');
    expect(new Date(instantOf('2026-10-25', '02:30', BERLIN)).toISOString()).toBe('2026-10-25T00:30:00.000Z');
  });
  it('P302 what is due begins soon or has just begun, in this room, not on a day off', () => {
    const due = (when: string, room = 'garden', more: object = {}) => dueIn([entry(more)], room, 'UTC', at(when))?.day ?? null;
    expect(due('2026-12-02T17:50:00Z')).toBe('2026-12-02');
    expect(due('2026-12-02T18:45:00Z')).toBe('2026-12-02');
    expect([due('2026-12-02T17:40:00Z'), due('2026-12-02T18:55:00Z'), due('2026-12-02T18:00:00Z', 'loft'), due('2026-12-02T18:00:00Z', 'garden', { not: ['2026-12-02'] })]).toEqual([null, null, null, null]);
  });
});

const input: PlanInput = { format: 1, id: 'p', name: 'P', sections: [
  { id: 'a', kind: 'warm-up', work: 60, items: [{ movement: 'squat' }] }, { id: 'b', kind: 'main', work: 40, rest: 20, items: [{ movement: 'squat' }, { movement: 'plank' }] },
] };
const base = planSchema.parse(input);

describe('bringing two versions together', () => {
  it('P300 takes what only one changed: fields, sections put in, taken out and moved', () => {
    const mine = planSchema.parse({ ...input, name: 'Mine', sections: [input.sections[0], { ...input.sections[1], rest: 15 }, { id: 'c', kind: 'clear-up', talk: 30 }] });
    const theirs = planSchema.parse({ ...input, slot: 1800, sections: [{ ...input.sections[1], work: 30 }, { id: 'w', kind: 'welcome', talk: 20 }] });
    const { plan, conflicts, taken } = mergePlans(base, mine, theirs);
    expect(conflicts).toEqual([]);
    expect([plan.name, plan.slot, plan.sections.map((s) => s.id), plan.sections.find((s) => s.id === 'b')]).toMatchObject(['Mine', 1800, ['b', 'w', 'c'], { work: 30, rest: 15 }]);
    expect(taken).toEqual(expect.arrayContaining(['the slot', 'the work of “Main”', 'that the section “Warm-up” is out', 'the section “Welcome”']));
    expect(planSchema.parse(plan)).toEqual(plan);
  });
  it('P300 names what both changed otherwise, and what one took out and the other changed', () => {
    const mine = planSchema.parse({ ...input, name: 'Mine', sections: [{ ...input.sections[0], work: 90 }, { ...input.sections[1], items: [{ movement: 'plank' }] }] });
    const theirs = planSchema.parse({ ...input, name: 'Theirs', sections: [{ ...input.sections[1], items: [{ movement: 'squat' }] }] });
    const { conflicts, plan } = mergePlans(base, mine, theirs);
    expect(conflicts.map((c) => c.where)).toEqual(['the name', 'the section “Warm-up”, which one took out and the other changed', 'the movements of “Main”']);
    expect(plan.sections.map((s) => s.id)).toEqual(['a', 'b']);
    expect(mergePlans(base, mine, mine)).toMatchObject({ conflicts: [], plan: mine });
  });
});

describe('a plan from elsewhere', () => {
  const known = (id: string) => id === 'squat';
  it('P301 is used as far as it goes, and says what it could not use', () => {
    const read = readPlanFile({ $schema: 'x', ...input, mood: 'good', sections: [{ ...input.sections[0], colour: 'red' }, input.sections[1]] }, known);
    expect(read).toMatchObject({ leftOut: ['"colour" of section 1 is no field of a plan and was left out.', '"mood" is no field of a plan and was left out.', 'Section 2, movement 2: the library has no "plank", so it was left out.'] });
    expect('plan' in read && read.plan.sections[1]?.items).toEqual([{ movement: 'squat' }]);
  });
  it('P301 W200 is refused with its place where nothing can be left out', () => {
    const refused = (json: unknown) => { const r = readPlanFile(json, known); return 'refused' in r ? r.refused : ''; };
    expect(refused([])).toContain('holds no plan');
    expect(refused({ name: 'x' })).toContain('"format": 1');
    expect(refused({ ...input, format: 9 })).toContain('written by a newer Hallclock');
    expect(refused({ ...input, sections: [{ ...input.sections[0], work: 0.001 }] })).toContain('at section 1, work');
    expect(refused({ ...input, sections: [{ id: 'b', kind: 'main', work: 30, items: [{ movement: 'gone' }] }] })).toContain('nothing is left to run');
  });
});
