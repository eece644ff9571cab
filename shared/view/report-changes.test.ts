/** Holds that the log names what was taken out, put in and taken back, and still adds up. */
import { describe, expect, it } from 'vitest';
import type { FactsOf } from '../plan/facts.ts';
import { planSchema } from '../plan/plan.ts';
import type { Command, Event } from '../session/command.ts';
import { decide } from '../session/decide.ts';
import { replay } from '../session/evolve.ts';
import { lastRounds } from '../session/rounds.ts';
import type { Session } from '../session/session.ts';
import { ways } from '../session/ways.ts';
import { type ServerAt, serverAt } from '../time/units.ts';
import { type Report, report } from './report.ts';
import { changeWords, intervalWords, markWords } from './report-words.ts';
import { view } from './view.ts';
import { words } from './words.ts';

const facts: FactsOf = {
  squat: { name: 'Squat', start: 'standing', end: 'standing', sides: 'together' },
  lunge: { name: 'Reverse lunge', start: 'standing', end: 'standing', sides: 'each' },
  march: { name: 'March', start: 'standing', end: 'standing', sides: 'together' },
};
const plan = planSchema.parse({
  format: 1, id: 'short', name: 'Short class', slot: 400, sections: [
    { id: 'hello', kind: 'welcome', talk: 60 },
    { id: 'main', kind: 'main', show: 'none', rounds: 3, work: 40, rest: 20, items: [{ movement: 'squat' }, { movement: 'lunge' }] },
  ],
});
const T0 = 1_700_000_000_000;
const at = (s: number): ServerAt => serverAt(T0 + s * 1_000);

type Hand = readonly [number, (s: Session, occurrence: string) => Command];
function held(...hands: Hand[]): Event[] {
  const started = decide(null, { type: 'start', session: 'c1', room: 'garden', plan, facts, settings: { countInMs: 3_000 }, freeAt: null }, at(0));
  const events: Event[] = 'events' in started ? [...started.events] : [];
  for (const [s, say] of hands) {
    const session = replay(events);
    if (!session) throw new Error('the class did not start');
    const decided = decide(session, say(session, view(session, at(s)).occurrence), at(s));
    if ('refused' in decided) throw new Error(decided.refused.sentence);
    events.push(...decided.events);
  }
  return events;
}
const of = (events: Event[], s: number): Report => report(events, at(s)) ?? (() => { throw new Error('no report'); })();
const sentences = (r: Report) => r.changes.map((c) => changeWords(r, c));
const ids = (s: Session, when: (i: Session['intervals'][number]) => boolean) => s.intervals.filter(when).map((i) => i.id);

const go: Hand = [30, (_s, occurrence) => ({ type: 'go', occurrence })];
const lastRound = (s: Session) => (lastRounds(s.intervals, 1, 1, s.intervals.findIndex((i) => i.kind === 'work')) ?? []).map((i) => i.id);
const dropRound: Hand = [40, (s) => ({ type: 'drop-round', section: 1, intervals: lastRound(s) })];
const undo: Hand = [45, (s) => ({ type: 'undo', change: s.change?.number ?? 0 })];
const leaveOut: Hand = [50, (s) => ({ type: 'leave-out', section: 1, item: 1, intervals: ids(s, (i) => i.section === 1 && i.item === 1) })];
const change: Hand = [50, (s) => ({
  type: 'change', section: 1, item: 1, to: 'march', facts: facts.march as FactsOf[string], intervals: ids(s, (i) => i.section === 1 && i.item === 1),
})];
const water: Hand = [55, (_s, occurrence) => ({ type: 'insert-break', occurrence, of: 'water' })];
const way: Hand = [60, (s) => {
  const found = ways(s, at(60)).find((w) => w.kind === 'movement' || w.kind === 'round');
  if (!found) throw new Error('no way');
  return found.command;
}];

const adds = (r: Report) => {
  expect(r.rows.reduce((sum, x) => sum + (x.real?.lengthMs ?? 0) + x.countInMs + x.pausedMs, 0)).toBe(r.totalMs);
  expect(Object.values(r.accounts).reduce((a, b) => a + b, 0)).toBe(r.totalMs);
};

describe('what was changed', () => {
  it('V48 what was planned and taken out keeps its row in its place and says what became of it; the report adds up', () => {
    for (const [hands, word] of [[[go, dropRound], 'round dropped'], [[go, leaveOut], 'left out'], [[go, change], 'changed for another']] as const) {
      const r = of(held(...hands), 2_000);
      const out = r.rows.filter((row) => row.marks.some((m) => m.what === 'out'));
      expect(out.some((row) => row.interval.kind === 'work' && row.planned !== null)).toBe(true);
      for (const row of out) expect(row.marks.map(markWords)).toEqual([word]);
      const starts = r.rows.flatMap((row) => (row.planned ? [row.planned.startMs] : []));
      expect(starts).toEqual([...starts].sort((a, b) => a - b));
      expect(r.rows.filter((row) => row.planned).reduce((sum, row) => sum + (row.planned?.lengthMs ?? 0), 0)).toBe(r.plannedMs);
      adds(r);
    }
  });

  it('V49 what was taken back leaves no mark, and is told as what it was', () => {
    const r = of(held(go, dropRound, undo), 2_000);
    expect(r.rows.flatMap((row) => row.marks.filter((m) => m.what === 'out' || 'byMs' in m))).toEqual([]);
    expect(sentences(r)).toEqual([
      'Go, after Welcome', 'Dropped round 3 of Main: Squat, Reverse lunge', 'Taken back. It was: Dropped round 3 of Main: Squat, Reverse lunge',
    ]);
    const broken = of(held(go, water, [56, undo[1]]), 2_000);
    expect(broken.rows.some((row) => row.interval.break)).toBe(false);
    adds(broken);
  });

  it('V50 what was left out, changed, put in or taken as a way is told by name', () => {
    expect(sentences(of(held(go, leaveOut), 2_000)).at(-1)).toBe('Left out Reverse lunge');
    expect(sentences(of(held(go, change), 2_000)).at(-1)).toBe('March in place of Reverse lunge');
    expect(sentences(of(held(go, water), 2_000)).at(-1)).toBe('Put in a water break after Squat');
    const r = of(held(go, way), 2_000);
    expect(sentences(r).at(-1)).toMatch(/^Cut to end on time, .*: left out .*(Squat|Reverse lunge)/);
    expect(r.rows.flatMap((row) => row.marks.map(markWords))).toContain('left out to end on time');
    adds(r);
    for (const sentence of [...sentences(r), ...sentences(of(held(go, change, water), 2_000))]) expect(sentence).not.toContain('the end');
  });

  it('V51 a break that was put in is called by its name: on the screen, before it comes, in the log', () => {
    const events = held(go, water);
    const s = replay(events);
    if (!s) throw new Error('no class');
    const before = view(s, at(70));
    expect(words(s, before).next).toBe('Water');
    const during = view(s, at(80));
    expect(during.interval?.break).toBe('water');
    expect(words(s, during).title).toBe('Water');
    expect(intervalWords(s, during.interval)).toBe('Water break');
    const rested = replay(held(go, [55, (_s, occurrence) => ({ type: 'insert-break', occurrence, of: 'rest' })]));
    if (!rested) throw new Error('no class');
    expect(words(rested, view(rested, at(80))).title).toBe('Rest');
  });
});
