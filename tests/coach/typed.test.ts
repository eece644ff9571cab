/** Holds shorthand: what instructors write, what is understood, what is asked, and that it is printed back. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { finder } from '../../shared/coach/typed/names.ts';
import { asTyped } from '../../shared/coach/typed/as-typed.ts';
import { answer, type Ask, type Typed, typed } from '../../shared/coach/typed/typed.ts';
import { type Plan, planSchema } from '../../shared/plan/plan.ts';
import { library, shipped } from './library.ts';

/** Sections without their ids: shorthand makes them anew. */
const bare = (p: Plan | null) => p && { ...p, id: '', sections: p.sections.map((s) => ({ ...s, id: '' })) };
const first = (t: Typed) => t.plan?.sections[0];
/** The characters that are no blank and lie in no understood stretch and in no question. */
function dropped(text: string, t: Typed): string {
  const seen = new Uint8Array(text.length);
  for (const s of [...t.understood, ...t.asks]) seen.fill(1, s.from, s.to);
  return [...text].length === 0 ? '' : Array.from({ length: text.length }, (_, k) => (seen[k] || /\s/u.test(text[k] as string) ? '' : text[k])).join('');
}

describe('typed as on paper', () => {
  it('P210 "3 rounds, 40/20: squat, row, plank 30 a side" is three rounds of three, and asks about the plank', () => {
    const text = '3 rounds, 40/20: squat, row, plank 30 a side';
    const t = typed(text, library);
    expect(first(t)).toMatchObject({ kind: 'main', way: 'together', rounds: 3, work: 40, rest: 20 });
    expect(first(t)?.items).toEqual([{ movement: 'squat' }, { movement: 'standing-row-squeeze' }, { movement: 'plank', work: 30, sides: 'full' }]);
    expect(t.understood.filter((u) => u.says).map((u) => [text.slice(u.from, u.to), u.says, u.guessed])).toEqual([
      ['3 rounds', '3 rounds', false], ['40/20', '40 s of work, 20 s of rest', false], ['squat', 'Squat', false],
      ['row', 'Standing row and squeeze', true], ['plank', 'Plank', false], ['30', '30 s', true], ['a side', 'each side', false],
    ]);
    expect(t.asks).toHaveLength(1);
    const ask = t.asks[0] as Ask;
    expect(ask.sentence).toBe('Plank works both sides at once. Which is meant?');
    const next = typed(answer(text, ask, ask.choices[0] as Ask['choices'][number]), library);
    expect(next.asks).toEqual([]);
    expect(first(next)?.items[2]).toEqual({ movement: 'side-plank', work: 30, sides: 'full' });
  });
  it('P210 the trade\'s other shapes: a block, 20/10 x 8, counts, rest between rounds, a ladder, stations', () => {
    const t = typed('welcome 1 min\nwarm up 5 min: march, arm circles\n20/10 x 8: high knees\nmain, three rounds, work 40 s: squat 10 reps, 30 s plank\nrest 1 min between rounds\nladder 20 30 20: wall sit\nstations, 2 rounds, 45/15: squat, bird dog\ncool down: child\'s pose 30', library);
    expect(t.asks.map((a) => a.sentence)).toEqual([]);
    expect(t.plan?.sections.map((s) => [s.id, s.way, s.rounds, s.work, s.rest, s.talk])).toEqual([
      ['welcome', 'together', 1, undefined, undefined, 60], ['warm-up', 'follow-me', 1, 300, undefined, undefined], ['main', 'together', 8, 20, 10, undefined],
      ['main-2', 'together', 3, 40, undefined, undefined], ['main-3', 'together', { seconds: [20, 30, 20] }, undefined, undefined, undefined],
      ['main-4', 'stations', 2, 45, 15, undefined], ['cool-down', 'together', 1, undefined, undefined, undefined],
    ]);
    expect(t.plan?.sections[3]?.items).toEqual([{ movement: 'squat', target: { of: 'reps', n: 10 } }, { movement: 'plank', work: 30, rest: 60 }]);
  });
  it('P210 lists with bullets and numbers are read line by line', () => {
    const t = typed('3 rounds, 30/30\n- squats\n2) press ups\n• reverse lunge 30 a side', library);
    expect(first(t)?.items.map((i) => i.movement)).toEqual(['squat', 'push-up', 'reverse-lunge']);
    expect(t.asks).toEqual([]);
  });
  it('P210 rounds may stand behind the movements, 3x before 40/20, and a first line of its own may be the name', () => {
    expect(first(typed('10 squats, 10 push ups, 3 rounds', library))).toMatchObject({ rounds: 3, items: [{ movement: 'squat', target: { of: 'reps', n: 10 } }, { movement: 'push-up', target: { of: 'reps', n: 10 } }] });
    expect(first(typed('Main 3x 40/20\nsquats\npush-ups', library))).toMatchObject({ rounds: 3, work: 40, rest: 20, items: [{ movement: 'squat' }, { movement: 'push-up' }] });
    const text = 'Legs on Monday\n40/20: squat';
    const ask = typed(text, library).asks[0] as Ask;
    const name = ask.choices.find((c) => c.label === 'It is the name of the class') as Ask['choices'][number];
    expect(typed(answer(text, ask, name), library)).toMatchObject({ plan: { name: 'Legs on Monday', id: 'legs-on-monday' }, asks: [] });
  });
  it('P213 seconds that are not written are taken as usual and asked about; the answer is understood', () => {
    const text = '3 rounds: squat, push-up';
    const t = typed(text, library);
    expect(first(t)).toMatchObject({ rounds: 3, work: 40, rest: 20 });
    const ask = t.asks[0] as Ask;
    expect(ask.sentence).toBe('How long is each movement? 40 s of work and 20 s of rest are taken.');
    for (const choice of ask.choices) {
      const next = typed(answer(text, ask, choice), library);
      expect(next.asks).toEqual([]);
      expect(`${first(next)?.work}/${first(next)?.rest}`).toBe(choice.label);
    }
  });
  it('P213 what cannot be meant is asked with its reason, and the rest is kept', () => {
    const of = (text: string) => typed(text, library).asks.map((a) => a.sentence);
    expect(of('99 rounds, 40/20: squat')).toEqual(['99 rounds: 1 to 50, in whole numbers.']);
    expect(of('40/20: squat 2 min, zorgle')).toEqual(['"zorgle" is not in the library, and is no shorthand known here. Write it another way, or take it out.']);
    expect(of('0/20: squat')[0]).toBe('0 s is too short: 1 s is the least.');
    expect(of('40/20: squat 5000 s')).toEqual(['83 min 20 s is too long: an hour is the most for one stretch.']);
    expect(of('40/20: lunge')[0]).toBe('Which one is "lunge"?');
    expect(typed('x'.repeat(20_001), library).asks[0]?.sentence).toBe('That is 20001 characters; 20000 is the most. Paste it in parts.');
    expect(typed('', library)).toEqual({ plan: null, understood: [], asks: [] });
  });
  it('P214 a movement is found by its name, another name, a part of it and a slip of the pen', () => {
    const f = finder(library);
    const id = (words: string) => { const n = f.find(words); return n.of === 'one' ? [n.movement.id, n.sure] : n.of === 'several' ? n.movements.length : null; };
    expect(id('Squats')).toEqual(['squat', true]);
    expect(id('chair squat')).toEqual(['chair-sit-to-stand', true]);
    expect(id('march')).toEqual(['march-in-place', true]);
    expect(id('row')).toEqual(['standing-row-squeeze', false]);
    expect(id('montain climbers')).toEqual(['mountain-climber', false]);
    expect(id('jacks')).toBeGreaterThan(1);
    expect(id('qqq')).toBe(null);
    expect(f.search('sqaut', 5)[0]?.id).toMatch(/squat/);
    expect(f.search('', 3)).toHaveLength(3);
  });

  const words = ['3 rounds', '40/20', ':', ',', '\n', ' ', 'squat', 'plank', '30 a side', 'warm up', 'cool down', 'main', '20/10 x 8', 'rest 20', 'on go', '10 reps', 'zorgle', '"Legs"', '-', '#gone', 'name: x', '🙂', '()', '.', 'x', '5', 'water', 'lunge', 'halved', 'in 30 min', 'for beginners', '1:30', '½', 'שלום', '\t', '3x10', '3 sets of 8', 'every minute', 'for 8 min', 'straight sets', 'emom'];
  it('P211 nothing that is typed is dropped: every character is understood or asked about, and understood stretches lie apart', () => {
    const texts = fc.oneof(fc.array(fc.constantFrom(...words), { maxLength: 14 }).map((w) => w.join(' ')), fc.array(fc.constantFrom(...words), { maxLength: 14 }).map((w) => w.join('')), fc.string({ unit: 'grapheme', maxLength: 60 }));
    fc.assert(fc.property(texts, (text) => {
      const t = typed(text, library);
      expect(dropped(text, t)).toBe('');
      let to = 0;
      for (const u of t.understood) {
        expect(u.from).toBeGreaterThanOrEqual(to);
        expect(u.to).toBeGreaterThan(u.from);
        to = u.to;
      }
      for (const a of t.asks) expect(a.sentence).toMatch(/^["A-Z0-9½(].*[.?]$/su);
      if (t.plan) planSchema.parse(t.plan);
    }), { numRuns: 600 });
  });

  it('P212 every shipped plan is printed and read back the same', () => {
    for (const p of shipped) {
      const { text, leftOut } = asTyped(p, library);
      const t = typed(text, library);
      expect(leftOut).toEqual([]);
      expect(t.asks).toEqual([]);
      expect(bare(t.plan)).toEqual(bare(p));
    }
  });
  const some = <T>(arb: fc.Arbitrary<T>) => fc.option(arb, { nil: undefined });
  const defined = <T extends object>(o: T): T => Object.fromEntries(Object.entries(o).filter(([, v]) => v !== undefined)) as T;
  const seconds = fc.integer({ min: 10, max: 3_000 }).map((n) => n / 10);
  const timing = {
    work: some(seconds), rest: some(fc.oneof(fc.constant(0), seconds)), setUp: some(fc.oneof(fc.constant(0), seconds)), ends: some(fc.constantFrom('clock' as const, 'go' as const)),
    target: some(fc.record({ of: fc.constantFrom('reps' as const, 'breaths' as const), n: fc.integer({ min: 1, max: 200 }) })),
    sides: some(fc.constantFrom('together' as const, 'alternating' as const, 'half' as const, 'full' as const, 'by-round' as const)),
    lead: some(fc.constantFrom('right' as const, 'left' as const, 'changes' as const)),
  };
  const item = fc.record({ movement: fc.constantFrom(...library.keys(), 'gone-away'), ...timing, show: some(fc.boolean()) }).map(defined);
  const steps = <T>(a: fc.Arbitrary<T>) => fc.array(a, { minLength: 1, maxLength: 5 });
  const section = fc.oneof(
    fc.record({ kind: fc.constantFrom('welcome' as const, 'clear-up' as const, 'main' as const), name: fc.constantFrom('Water', 'Über uns', 'A, b: c'), talk: seconds }),
    fc.record({
      kind: fc.constantFrom('warm-up' as const, 'main' as const, 'cool-down' as const), name: some(fc.constantFrom('Strong legs', '3 rounds', 'Step 1: go')), ...timing, work: seconds,
      rounds: fc.oneof(fc.integer({ min: 1, max: 50 }), fc.record({ seconds: steps(seconds) }), fc.record({ reps: steps(fc.integer({ min: 1, max: 200 })) })),
      show: some(fc.constantFrom('none' as const, 'each' as const, 'all-first' as const, 'in-the-rest' as const)), showEstimate: seconds, lastRest: fc.boolean(), items: fc.array(item, { minLength: 1, maxLength: 5 }),
    }),
    fc.record({
      kind: fc.constantFrom('warm-up' as const, 'main' as const), way: fc.constantFrom('follow-me' as const, 'stations' as const), rounds: fc.integer({ min: 1, max: 9 }), work: seconds, rest: some(seconds),
      items: fc.array(item, { minLength: 2, maxLength: 5 }),
    }),
  ).map(defined);
  it('P212 any plan that shorthand can say is printed and read back the same; of what it cannot say a sentence tells', () => {
    const plans = fc.record({ name: fc.constantFrom('Forty twenty', 'Über: 40/20, "x"'), group: fc.constantFrom('general' as const, 'older-adults' as const, 'pregnancy' as const, 'returning' as const), slot: some(fc.integer({ min: 60, max: 14_400 })), sections: fc.array(section, { minLength: 1, maxLength: 4 }) })
      .map((p) => planSchema.parse({ format: 1, id: 'p', ...defined(p), sections: p.sections.map((s, k) => ({ id: `s${k}`, ...s })) }));
    fc.assert(fc.property(plans, (p) => {
      const { text, leftOut } = asTyped(p, library);
      const t = typed(text, library);
      expect(leftOut).toEqual([]);
      expect(t.asks.filter((a) => !a.sentence.includes('is not in the library') && !a.sentence.includes('works both sides')).map((a) => `${a.sentence} «${text.slice(a.from, a.to)}»`)).toEqual([]);
      expect(bare(t.plan)).toEqual(bare(p));
    }), { numRuns: 300 });
  });
  it('P212 what shorthand cannot say is told', () => {
    const p = planSchema.parse({ format: 1, id: 'p', name: 'P', note: 'one\ntwo', series: { name: 'S', number: 3 }, waived: [{ rule: 'over-slot', reason: 'ok' }], sections: [{ id: 'a', kind: 'main', name: 'The "one"', work: 30, items: [{ movement: 'squat' }] }] });
    expect(asTyped(p, library).leftOut).toEqual(['The note is written on one line.', 'That it is number 3 of "S".', 'What was waived, in 1 place.', 'The "one": its name, because of its quotation marks.']);
  });
});
