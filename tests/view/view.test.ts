/** Holds what a screen shows, by example and over random classes. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PlanInput, planSchema } from '../../shared/plan/plan.ts';
import { decide } from '../../shared/session/decide.ts';
import { between } from '../../shared/time/units.ts';
import { controls } from '../../shared/view/controls.ts';
import { type View, view } from '../../shared/view/view.ts';
import { words } from '../../shared/view/words.ts';
import { type Hands, hold, START } from '../random/class.ts';
import { type Kind, plans, presses } from '../random/plans.ts';

type SectionInput = PlanInput['sections'][number];
const class_ = (...sections: SectionInput[]): Hands => hold(planSchema.parse({ format: 1, id: 'p', name: 'P', sections }));
const main = (s: Partial<SectionInput> = {}): SectionInput => ({
  id: 'm', kind: 'main', show: 'none', work: 30, rest: 20, rounds: 2, items: [{ movement: 'lunge' }, { movement: 'bridge' }], ...s,
});
const press = (h: Hands, kind: Kind) => h.press({ ticks: 0, kind, n: 10, stale: false });
const v = (h: Hands): View => view(h.session, h.at);
const w = (h: Hands) => words(h.session, v(h));
const at = (h: Hands, ms: number) => { h.wait(3_000 + ms - between(START, h.at)); return h; };

describe('view', () => {
  it('V1 an instant before the newest event shows that event', () => {
    const h = at(class_(main()), 5_000);
    press(h, 'pause');
    expect(view(h.session, START)).toEqual(v(h));
  });

  it('V2 seconds are rounded up; talk, watch, go and follow me count nothing', () => {
    const h = at(class_(main()), 1);
    expect(v(h).seconds).toBe(15);
    expect(v(at(h, 14_999)).seconds).toBe(1);
    expect(v(class_({ id: 't', kind: 'welcome', talk: 30 }))).toMatchObject({ phase: 'talk', seconds: null, waits: true });
    expect(v(class_(main({ show: 'each' })))).toMatchObject({ phase: 'watch', seconds: null, waits: true });
    expect(v(at(class_(main({ ends: 'go' })), 4_000))).toMatchObject({ phase: 'work', seconds: null, waits: true });
    expect(v(at(class_(main({ way: 'follow-me', items: [{ movement: 'squat' }, { movement: 'march' }] })), 4_000))).toMatchObject({ phase: 'work', seconds: null });
  });

  it('V3 only work is solid: first side solid and the other an outline, then the second solid and the first nothing', () => {
    const h = at(class_(main()), 1_000);
    expect(v(h).tide).toEqual({ right: 'solid', left: 'outline' });
    expect(v(at(h, 16_000)).tide).toEqual({ right: 'none', left: 'outline' });
    expect(v(at(h, 21_000)).tide).toEqual({ right: 'none', left: 'solid' });
    expect(v(at(h, 36_000)).tide).toEqual({ right: 'outline', left: 'outline' });
    expect(v(class_(main())).tide).toEqual({ right: 'outline', left: 'none' });
  });

  it('V4 the last 3 s before work are a count-in whatever they lie in; the last 3 s of work are marked otherwise', () => {
    const h = at(class_(main()), 11_999);
    expect(v(h)).toMatchObject({ phase: 'work', closing: false });
    expect(v(at(h, 12_000))).toMatchObject({ phase: 'work', closing: true, seconds: 3 });
    expect(v(at(h, 16_999))).toMatchObject({ phase: 'other-side', seconds: 4 });
    expect(v(at(h, 17_000))).toMatchObject({ phase: 'count-in', seconds: 3 });
    expect(v(at(h, 51_999))).toMatchObject({ phase: 'set-up', seconds: 4 });
    expect(v(at(h, 52_000))).toMatchObject({ phase: 'count-in', seconds: 3 });
  });

  it('V5 next is the next movement with how the body gets there', () => {
    const h = at(class_(main(), { id: 'c', kind: 'clear-up', talk: 60 }), 1_000);
    expect([w(h).nextLabel, w(h).next]).toEqual(['Next, on the floor', 'Bridge']);
    at(h, 70_000);
    expect([w(h).title, w(h).nextLabel, w(h).next]).toEqual(['Bridge', 'Next, up to standing', 'Lunge']);
    press(h, 'move-on');
    expect([w(h).title, w(h).next]).toEqual(['Rest', 'Lunge']);
    at(h, 300_000);
    expect(v(h).phase).toBe('talk');
    expect(w(h).next).toBe('Finish');
  });

  it('V6 a side is named by its own phrase, and a pause says what it goes back to', () => {
    const h = at(class_(main()), 1_000);
    expect(w(h).line).toBe('right leg back');
    press(h, 'pause');
    expect([w(h).title, w(h).nextLabel, w(h).next]).toEqual(['Paused', 'Then 14 more', 'Right leg back']);
  });

  it('V7 a follow-me block shows its prompts in equal parts, in order', () => {
    const h = class_(main({ way: 'follow-me', rounds: 1, work: 30, items: [{ movement: 'squat' }, { movement: 'march' }, { movement: 'lunge' }] }));
    expect([0, 9_999, 10_000, 20_000, 29_999].map((ms) => v(at(h, ms)).movement)).toEqual(['squat', 'squat', 'march', 'lunge', 'lunge']);
  });

  it('V8 nothing but tide and notch changes before the next edge', () => {
    const still = ({ share: _s, floorMs: _f, at: _a, nextEdgeAt: _n, projectedAt: _p, ...rest }: View) => rest;
    fc.assert(fc.property(plans, presses, fc.double({ min: 0, max: 1, noNaN: true }), (plan, hands, part) => {
      const h = hold(plan);
      for (const p of hands) {
        const seen = v(h);
        if (seen.nextEdgeAt !== null) {
          const room = between(seen.at, seen.nextEdgeAt);
          expect(room).toBeGreaterThan(0);
          expect(still(view(h.session, (seen.at + Math.floor((room - 1) * part)) as typeof seen.at))).toEqual(still(seen));
        }
        h.wait(p.ticks * 100);
        h.press(p);
      }
    }), { numRuns: 300 });
  });

  it('V9 every control on the phone is one that would be taken', () => {
    fc.assert(fc.property(plans, presses, (plan, hands) => {
      const h = hold(plan);
      for (const p of hands) {
        const { evenUp, ...rest } = controls(h.session, h.at);
        for (const command of [...Object.values(rest), evenUp?.command ?? null]) {
          if (command) expect('refused' in decide(h.session, command, h.at), command.type).toBe(false);
        }
        const seen = v(h);
        const big = seen.phase === 'over' || seen.stopped ? undefined : seen.paused ? 'carry-on' : seen.waits ? 'go' : 'pause';
        expect(rest.big?.type).toBe(big);
        h.wait(p.ticks * 100);
        h.press(p);
      }
    }), { numRuns: 200 });
  });
});
