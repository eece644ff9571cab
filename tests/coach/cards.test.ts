/** Holds that what is written on paper in the trade's shorthand is read as it is meant, and that no number of it gets lost without a word. */
import { describe, expect, it } from 'vitest';
import { answer, type Typed, typed } from '../../shared/coach/typed/typed.ts';
import { cards } from './cards.ts';
import { library } from './library.ts';

const asked = (t: Typed) => t.asks.map((a) => a.sentence);
const short = (text: string) => typed(text, library).plan?.sections.map((s) => [s.kind, typeof s.rounds === 'number' ? s.rounds : JSON.stringify(s.rounds), s.work ?? null, s.rest ?? null,
  s.items.map((i) => [i.movement, i.work ?? null, i.rest ?? null, i.target?.n ?? null, i.sides ?? null].map((v) => v ?? '').join(' ').trim())]);

/** The text when every question that has an answer to choose was answered with the first one. */
function settled(text: string): string {
  let now = text;
  for (let k = 0; k < 40; k += 1) {
    const ask = typed(now, library).asks.find((a) => a.choices.length > 0);
    const [choice] = ask?.choices ?? [];
    if (!ask || !choice) return now;
    now = answer(now, ask, choice);
  }
  throw new Error(`These questions do not end: ${text}`);
}

describe('cards', () => {
  it('P341 every character of every card is understood or asked about, and its questions end when they are answered', () => {
    for (const text of cards) {
      const t = typed(text, library);
      const seen = new Uint8Array(text.length);
      for (const s of [...t.understood, ...t.asks]) seen.fill(1, s.from, s.to);
      expect([text, Array.from(text.matchAll(/\S/gu)).filter((m) => !seen[m.index]).map((m) => m[0]).join('')]).toEqual([text, '']);
      settled(text);
    }
  });

  it('P340 no number that is understood is lost: another number there makes another plan, or a question', () => {
    const lost: string[] = [];
    for (const card of cards) {
      const text = settled(card);
      const now = typed(text, library);
      if (now.plan === null) continue;
      for (const u of now.understood) {
        // A bullet and the label of a part are no amounts.
        if (u.what === 'mark' || u.says === text.slice(u.from, u.to)) continue;
        for (const m of text.slice(u.from, u.to).matchAll(/\d+/g)) {
          const at = u.from + m.index;
          const other = typed(`${text.slice(0, at)}${Number(m[0]) + 5}${text.slice(at + m[0].length)}`, library);
          if (JSON.stringify([other.plan?.sections, asked(other)]) === JSON.stringify([now.plan.sections, asked(now)])) lost.push(`${m[0]} of "${text.slice(u.from, u.to)}" in ${JSON.stringify(text)}`);
        }
      }
    }
    expect(lost).toEqual([]);
  });

  it('P340 what is written twice and differs is asked, and the first is taken', () => {
    for (const [text, about] of [
      ['squat 40 s 20 s', '"20 s" stands here, and 40 s before it'], ['3 rounds 4 rounds 40/20: squat', '"4 rounds" stands here, and 3 rounds before it'],
      ['40/20: squat, push-up, rest 60 s', '"rest 60 s" stands here, and 20 s before it'], ['squat 10 reps 12 reps', '"12 reps" stands here, and 10 reps before it'],
    ] as const) expect([text, asked(typed(text, library))[0]?.slice(0, about.length)]).toEqual([text, about]);
    expect(typed('squat 40 s 20 s', library).plan?.sections[0]?.items[0]?.work).toBe(40);
    const rest = typed('40/20: squat, push-up, rest 60 s', library);
    const [ask] = rest.asks;
    const between = ask?.choices.find((c) => c.label === 'Between rounds');
    expect(ask && between && short(answer('40/20: squat, push-up, rest 60 s', ask, between))).toEqual([['main', 1, 40, 20, ['squat', 'push-up  60']]]);
  });

  it('P341 the trade\'s short forms are read as they are meant', () => {
    const reads: Readonly<Record<string, unknown>> = {
      '3 rds 40/20: squats, rev lunge e/s': [['main', 3, 40, 20, ['squat', 'reverse-lunge    full']]],
      'squat 40s rest 20s\npush-up 60s rest 30s': [['main', 1, null, null, ['squat 40 20', 'push-up 60 30']]],
      '20:10 x 8 high knees': [['main', 8, 20, 10, ['high-knees']]],
      '20 squats, 15 push ups, 5 jump squats, 3 laps': [['main', 3, null, null, ['squat 60  20', 'push-up 45  15', 'squat-jump 10  5']]],
      '10 squats 5 pushups': [['main', 1, null, null, ['squat 30  10', 'push-up 15  5']]],
      '5 rounds: 20s squat jump - 40s march': [['main', 5, null, null, ['squat-jump 20', 'march-in-place 40']]],
      'wu 5 min march, arm circles\nc/d lying twist 30 es': [['warm-up', 1, 300, null, ['march-in-place', 'arm-circles']], ['cool-down', 1, null, null, ['lying-twist 30   full']]],
      '21-15-9 squats and push-ups': [['main', '{"reps":[21,15,9]}', null, null, ['squat', 'push-up']]],
      '1) squat 2) plank 30s each, no rest, 4 times through': [['main', 4, null, null, ['squat 30', 'plank 30 0']]],
      'Stretch\nQuad 30" each\nLying twist 20s L + 20s R': [['cool-down', 1, null, null, ['quad-stretch 30   full', 'lying-twist 20   full']]],
      'Superset A: squat / row 3x10, rest 30 s': [['main', 3, null, 30, ['squat 30  10', 'standing-row-squeeze 30  10']]],
      'EMOM 10: 10 squats': [['main', 10, null, null, ['squat 30 30 10']]],
      'squat 45s\nrow 45s\n------\nrest 1:00': [['main', 1, null, null, ['squat 45', 'standing-row-squeeze 45 60']]],
    };
    for (const [text, plan] of Object.entries(reads)) expect([text, asked(typed(text, library)), short(text)]).toEqual([text, [], plan]);
  });

  it('P342 what paper says and a plan cannot is asked with its reason', () => {
    const of = (text: string) => asked(typed(text, library)).join(' ');
    expect(of('40/20: squat @ 12kg')).toMatch(/Weights are not kept/);
    expect(of('40/20: squat tempo 3-1-1')).toMatch(/tempo is not kept/);
    expect(of('AMRAP 8 min: 10 squats')).toMatch(/pace of their own/);
    expect(of('warm up 5 min: march 60 s, step jacks 60 s')).toMatch(/5 min are written, and the movements by themselves come to about 2 min/);
    expect(of('lying twist 20s L + 30s R')).toMatch(/Left and right have the same time/);
    expect(of('glute bridge 12 reps 3s hold')).toMatch(/How long each count is held/);
  });
});
