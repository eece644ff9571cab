/** Holds what the log of a class comes to at the desk. */
import { describe, expect, it } from 'vitest';
import { FORGOTTEN_MS } from '../limits.ts';
import type { FactsOf } from '../plan/facts.ts';
import { planSchema } from '../plan/plan.ts';
import type { Event, RunningCommand } from '../session/command.ts';
import { decide } from '../session/decide.ts';
import { replay } from '../session/evolve.ts';
import { type ServerAt, serverAt } from '../time/units.ts';
import { type Report, report } from './report.ts';
import { changeWords, intervalWords, markWords } from './report-words.ts';
import { view } from './view.ts';

const facts: FactsOf = {
  squat: { name: 'Squat', start: 'standing', end: 'standing', sides: 'together' },
  lunge: { name: 'Reverse lunge', start: 'standing', end: 'standing', sides: 'each', phrases: { left: 'left leg back', right: 'right leg back' } },
};
const plan = planSchema.parse({
  format: 1, id: 'short', name: 'Short class', sections: [
    { id: 'hello', kind: 'welcome', talk: 60 },
    { id: 'main', kind: 'main', show: 'none', work: 40, rest: 20, items: [{ movement: 'squat' }, { movement: 'lunge', sides: 'full', work: 30 }, { movement: 'squat' }] },
  ],
});
const T0 = 1_700_000_000_000;
const at = (s: number): ServerAt => serverAt(T0 + s * 1_000);

/** A class held by hand: seconds since the start, and what was pressed then (given what it saw). */
type Hand = readonly [number, (occurrence: string) => RunningCommand];
function held(...hands: Hand[]): Event[] {
  const started = decide(null, { type: 'start', session: 'c1', room: 'garden', plan, facts, settings: { countInMs: 3_000 }, freeAt: null }, at(0));
  const events: Event[] = 'events' in started ? [...started.events] : [];
  for (const [s, say] of hands) {
    const session = replay(events);
    if (!session) throw new Error('the class did not start');
    const decided = decide(session, say(view(session, at(s)).occurrence), at(s));
    if ('refused' in decided) throw new Error(decided.refused.sentence);
    events.push(...decided.events);
  }
  return events;
}
const go: Hand[1] = (occurrence) => ({ type: 'go', occurrence });
const of = (events: Event[], s: number): Report => report(events, at(s)) ?? (() => { throw new Error('no report'); })();
const row = (r: Report, id: string) => r.rows.find((x) => x.interval.id === id);
const said = (r: Report, id: string) => row(r, id)?.marks.map(markWords);
const total = (r: Report) => r.rows.reduce((sum, x) => sum + (x.real?.lengthMs ?? 0) + x.countInMs + x.pausedMs, 0);

// 0 talk until go at 30; count-in 3 s (set-up of the first squat is there); work 33 to 73; rest and set-up; lunge.
const busy = held(
  [30, go],
  [40, () => ({ type: 'pause', reason: null })],
  [42, () => ({ type: 'pause', reason: 'form' })],
  [60, () => ({ type: 'carry-on', pause: 1 })],
  [70, (occurrence) => ({ type: 'extend', occurrence, byMs: 10_000 })],
  [90, (occurrence) => ({ type: 'again', occurrence })],
  [100, (occurrence) => ({ type: 'move-on', occurrence })],
  [101, () => ({ type: 'note', text: 'Warm today' })],
  [102, () => ({ type: 'head-count', n: 14 })],
);

describe('report', () => {
  it('V40 intervals, count-ins and pauses of a report add up to the whole class, as do its accounts', () => {
    for (const s of [0, 10, 35, 41, 61, 95, 130, 200, 500]) {
      const r = of(busy.filter((e) => e.at <= at(s)), s);
      expect(total(r)).toBe(r.totalMs);
      expect(Object.values(r.accounts).reduce((a, b) => a + b, 0)).toBe(r.totalMs);
    }
  });

  it('V41 a report tells each pause with its movement, its reason and its length, one that still runs included', () => {
    const r = of(busy, 200);
    expect(r.pauses).toMatchObject([{ number: 1, at: at(40), lengthMs: 20_000, reason: 'form', runs: false }]);
    expect(intervalWords(r.session, r.pauses[0]?.interval ?? null)).toBe('Squat');
    const open = of(held([30, go], [40, () => ({ type: 'pause', reason: null })]), 75);
    expect(open.pauses).toMatchObject([{ lengthMs: 35_000, reason: null, runs: true }]);
  });

  it('V42 a report says plan against fact of an interval: longer, shorter, left early, again, skipped, added, waited, not reached', () => {
    const r = of(busy, 100_000);
    expect(row(r, '1.1.0.work')?.planned?.lengthMs).toBe(40_000);
    expect(said(r, '1.1.0.work')).toEqual(['10 s more', 'left 43 s early', 'done again']);
    const moved = of(held([30, go], [35, (occurrence) => ({ type: 'move-on', occurrence })], [60, (occurrence) => ({ type: 'move-on', occurrence })]), 400);
    expect(said(moved, '1.1.1.left')).toEqual(['skipped']);
    const ended = of(held([30, go], [40, () => ({ type: 'end' })]), 400);
    expect(said(ended, '1.1.1.right')).toEqual(['not reached']);
    expect(said(ended, '1.1.0.work')).toEqual(['left 33 s early']);
    const running = of(held([30, go]), 40);
    expect(said(running, '1.1.0.work')).toEqual(['now']);
    expect(said(running, '1.1.1.right')).toEqual(['to come']);
    const waited = of(held([30, go], [32, (occurrence) => ({ type: 'wait', occurrence })], [50, go]), 60);
    expect(said(waited, '1.1.0.set-up')).toEqual(['waited for go']);
  });

  it('V43 a report tells each change at its time, in words', () => {
    const r = of(busy, 200);
    expect(r.changes.map((c) => [(c.at - T0) / 1_000, changeWords(r, c)])).toEqual([
      [30, 'Go, after Welcome'],
      [40, 'Paused in Squat'],
      [42, 'The pause was for: form'],
      [60, 'Carried on, with 3 s to get ready'],
      [70, '10 s more: Squat'],
      [90, 'Again: back to Squat'],
      [100, 'Moved on from Squat to Rest'],
      [101, 'Note: Warm today'],
      [102, '14 here'],
    ]);
  });

  it('V44 the walked floor is the class in order, without a gap', () => {
    const r = of(busy, 200);
    let end = 0;
    for (const board of r.walked) {
      expect(board.startMs).toBe(end);
      end += board.lengthMs;
    }
    expect(end).toBe(r.totalMs);
  });

  it('V45 a report tells what each side came to, and which is owed', () => {
    // The lunge's right side is 30 s; the hand extends only the second side.
    const events = held([30, go], [35, (occurrence) => ({ type: 'move-on', occurrence })]);
    const session = replay(events);
    if (!session) throw new Error('no class');
    const leftAt = Array.from({ length: 200 }, (_, k) => 35 + k).find((s) => view(session, at(s)).interval?.id === '1.1.1.left') ?? 0;
    const r = of(held([30, go], [35, (occurrence) => ({ type: 'move-on', occurrence })], [leftAt + 1, (occurrence) => ({ type: 'extend', occurrence, byMs: 10_000 })]), 400);
    expect(r.sides).toMatchObject([{ movement: 'lunge', leftMs: 40_000, rightMs: 30_000, owed: 'right' }]);
  });

  it('V46 the report of a forgotten class ends when it was forgotten, and its pause with it', () => {
    const r = of(held([30, go], [40, () => ({ type: 'pause', reason: null })]), 40 + FORGOTTEN_MS / 1_000 + 5_000);
    expect(r.session.over?.how).toBe('forgotten');
    expect(r.totalMs).toBe(40_000 + FORGOTTEN_MS);
    expect(r.pauses).toMatchObject([{ lengthMs: FORGOTTEN_MS, runs: false }]);
    expect(said(r, '1.1.0.work')?.[0]).toBe('left 33 s early');
    expect(total(r)).toBe(r.totalMs);
  });

  it('V47 an empty log has no report', () => {
    expect(report([], at(0))).toBeNull();
  });
});
