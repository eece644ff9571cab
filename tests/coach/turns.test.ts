/** Holds sets and turns as instructors write them on paper: what is understood, what is asked, and that an answer ends the question. */
import { describe, expect, it } from 'vitest';
import { answer, type Ask, type Typed, typed } from '../../shared/coach/typed/typed.ts';
import { compile } from '../../shared/plan/compile.ts';
import { factsOfLibrary } from '../../shared/coach/study.ts';
import { library } from './library.ts';

const sections = (t: Typed) => t.plan?.sections.map((s) => [s.rounds, s.rest, ...s.items.map((i) => [i.movement, i.work, i.target?.n ?? null])]);
const asked = (t: Typed) => t.asks.map((a) => a.sentence);
/** The text once the first question about `about` is answered with `label`. */
function answered(text: string, about: RegExp, label: string): string {
  const ask = typed(text, library).asks.find((a) => about.test(a.sentence)) as Ask;
  return answer(text, ask, ask.choices.find((c) => c.label === label) as Ask['choices'][number]);
}

describe('sets', () => {
  it('P332 sets of one movement are rounds of it, in whatever way they are written; only their rest is asked about', () => {
    for (const text of ['squat 3x10', '3 x 10 squats', '3 sets of 10 squats', 'squats 3 × 10 reps', '3x10: squat']) {
      const t = typed(text, library);
      expect([text, sections(t), asked(t)]).toEqual([text, [[3, 30, ['squat', 30, 10]]], ['How long is the rest after each set? 30 s are taken.']]);
      const next = typed(answered(text, /rest after each set/, '60 s'), library);
      expect([text, sections(next), asked(next)]).toEqual([text, [[3, 60, ['squat', 30, 10]]], []]);
    }
    // A hold is held for seconds, whatever has its seconds has them.
    expect(sections(typed('rest 20 s: plank 3x20', library))).toEqual([[3, 20, ['plank', 20, null]]]);
    expect(sections(typed('rest 20 s: squat 4x45 s', library))).toEqual([[4, 20, ['squat', 45, null]]]);
    expect(typed('rest 20 s: squat 3x10', library).understood.find((u) => u.says.startsWith('3 sets'))).toMatchObject({ says: '3 sets of 10 reps', guessed: true });
  });

  it('P332 as many sets of several movements are rounds, or one movement after the other: it is asked, and each answer is understood', () => {
    const text = 'rest 30 s: squat 3x10, push-up 3x8';
    expect([sections(typed(text, library)), asked(typed(text, library))]).toEqual([[[3, 30, ['squat', 30, 10], ['push-up', 24, 8]]], ['3 sets of each: in rounds, or all of one before the next? Rounds are taken.']]);
    const rounds = typed(answered(text, /in rounds/, '3 rounds'), library);
    expect([sections(rounds), asked(rounds)]).toEqual([[[3, 30, ['squat', 30, 10], ['push-up', 24, 8]]], []]);
    const straight = typed(answered(text, /in rounds/, 'All of one before the next'), library);
    expect([sections(straight), asked(straight)]).toEqual([[[3, 30, ['squat', 30, 10]], [3, 30, ['push-up', 24, 8]]], []]);
  });

  it('P332 different sets are sections of their own; sets against rounds, and too many, are asked with their reason', () => {
    expect(sections(typed('rest 30 s: squat 3x10, plank 2x30, march 60 s', library))).toEqual([[3, 30, ['squat', 30, 10]], [2, 30, ['plank', 30, null]], [1, 30, ['march-in-place', 60, null]]]);
    const text = '4 rounds, rest 30 s: squat 3x10, plank 30 s';
    expect(asked(typed(text, library))).toEqual(['The section has its own rounds already; 3 sets within each round cannot be said. Once each round is taken.']);
    expect(asked(typed(answered(text, /own rounds/, 'Once each round'), library))).toEqual([]);
    expect(asked(typed('rest 30 s: squat 400x10', library))[0]).toContain('400 sets: 1 to');
    expect(asked(typed('rest 30 s: squat 3x900', library))[0]).toContain('900 reps: 1 to 200');
  });
});

describe('turns', () => {
  it('P333 turns that begin every minute are work as long as the counts take and rest until the next, so often as is written', () => {
    for (const text of ['every minute: 10 squats for 8 min', 'every minute on the minute, 10 squats, 8 rounds', '10 squats every minute for 8 min', 'EMOM 8 min: 10 squats', 'each 60 s: squat 10 reps for 8 min']) {
      const t = typed(text, library);
      expect([text, asked(t), t.plan?.sections.map((s) => [s.rounds, s.items])]).toEqual([text, [], [[8, [{ movement: 'squat', work: 30, rest: 30, ends: 'clock', target: { of: 'reps', n: 10 } }]]]]);
      // The clock of the class itself begins every turn a minute after the one before.
      const { intervals } = compile(t.plan as NonNullable<Typed['plan']>, factsOfLibrary(library));
      // Nothing in it waits for go: by the clock alone each turn begins when it should.
      expect(intervals.filter((i) => i.kind === 'work').map((i) => i.ends)).toEqual(Array(8).fill('clock'));
      let at = 0;
      const starts = intervals.flatMap((i) => { const start = at; at += i.lengthMs; return i.kind === 'work' ? [start] : []; });
      expect(starts.slice(1).map((s, k) => s - (starts[k] ?? 0))).toEqual(Array(7).fill(60_000));
    }
    expect(typed('every 90 s: 10 squats, 8 push-ups for 6 min', library).plan?.sections[0]).toMatchObject({ rounds: 2, items: [{ work: 30, rest: 60 }, { work: 24, rest: 66 }] });
    expect(typed('every minute: 5 lunges a side for 4 min'.replace('lunges', 'reverse lunges'), library).plan?.sections[0]?.items[0]).toMatchObject({ sides: 'full', rest: 60 - 2 * (typed('reverse lunge 5 reps a side', library).plan?.sections[0]?.items[0]?.work ?? 0) });
    // After another section they are one of their own.
    expect(typed('3 rounds, 40/20: squat\nevery minute: 10 squats for 6 min', library).plan?.sections.map((s) => s.rounds)).toEqual([3, 6]);
  });

  it('P333 what a turn leaves open is asked: for how long, how many, whether it fits', () => {
    const open = 'every minute: squat';
    expect(asked(typed(open, library))).toEqual(['How many of it every minute? 40 s of work are taken.', 'For how long? 8 min are taken.']);
    const closed = answered(answered(open, /How many/, '10 reps'), /For how long/, '6 min');
    expect([asked(typed(closed, library)), sections(typed(closed, library))]).toEqual([[], [[6, undefined, ['squat', 30, 10]]]]);
    expect(asked(typed('every minute: 40 squats for 3 min', library))).toEqual(['Squat: that takes about 2 min, and a turn has 60 s. Write fewer, or a longer turn.']);
    expect(asked(typed('every minute: 10 squats, 8 push-ups for 9 min', library))).toEqual(['9 min are 9 turns, which 2 movements do not share out evenly. 10 min are taken.']);
    expect(asked(typed('every 5 s: 1 squat for 3 min', library))[0]).toContain('20 s is the least');
  });
});
