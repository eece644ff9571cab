/** Holds the class clock against random classes: what must always be true, and a second model in ticks. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compile } from '../../shared/plan/compile.ts';
import { factsFor } from '../../shared/plan/facts.ts';
import type { Plan } from '../../shared/plan/plan.ts';
import { floorTimeMs, otherSideMs } from '../../shared/plan/positions.ts';
import { finish } from '../../shared/session/finish.ts';
import { ledger, owedSide } from '../../shared/session/ledger.ts';
import { placeAt, remainingMs } from '../../shared/session/place.ts';
import { view } from '../../shared/view/view.ts';
import { changeList, leaveFor } from '../model/edits.ts';
import { TickModel } from '../model/tick.ts';
import { type Hands, hold } from '../random/class.ts';
import { facts, isChange, type Press, plans, presses } from '../random/plans.ts';

const RUNS = 2_000;
const options = { numRuns: RUNS };

/** `expect` costs more than the clock does; it speaks only where two numbers differ. */
const same = (is: number, should: number): void => { if (is !== should) expect(is).toBe(should); };
const sum = (o: object): number => Object.values(o).reduce((a: number, b: number) => a + b, 0);

/** Walks a random class, handing each instant worth looking at to `look`. */
function each(look: (h: Hands, plan: Plan, press: Press | null) => void): void {
  fc.assert(fc.property(plans, presses, (plan, hands) => {
    const h = hold(plan);
    look(h, plan, null);
    for (const press of hands) {
      h.wait(press.ticks * 100);
      look(h, plan, null);
      h.press(press);
      look(h, plan, press);
    }
  }), options);
}

describe('random classes', () => {
  it('L1 L2 L3 F1 accounts add up to the time; elapsed and remaining close; the projected end is made of its parts', () => {
    each(({ session, at, startedAt }) => {
      const place = placeAt(session, at);
      const { accounts, sums } = ledger(session, at);
      same(sum(accounts), (place.over?.at ?? at) - startedAt);
      same(sums.elapsed + remainingMs(session, place), sums.planned + sums.extended + sums.added + sums.repeated - sums.skipped - sums.dropped);
      const f = finish(session, at);
      same(f.endAt, place.over ? place.over.at : at + f.countInMs + f.remainingMs + f.openMs);
    });
  });

  it('L4 a pause changes nothing that remains; carrying on does not move the projected end', () => {
    let before: { remaining: number; endAt: number } | null = null;
    each(({ session, at, accepted }, _plan, press) => {
      const now = { remaining: remainingMs(session, placeAt(session, at)), endAt: finish(session, at).endAt as number };
      if (press === null) before = now;
      else if (accepted && before && press.kind === 'pause') expect(now.remaining).toBe(before.remaining);
      else if (accepted && before && press.kind === 'carry-on') expect(now).toEqual(before);
    });
  });

  it('S1 replaying the log gives the same session, and looking changes nothing', () => {
    fc.assert(fc.property(plans, presses, (plan, hands) => {
      const h = hold(plan);
      for (const press of hands) {
        h.wait(press.ticks * 50);
        view(h.session, h.at);
        h.wait(press.ticks * 50);
        h.press(press);
      }
      expect(h.replayed()).toEqual(h.session);
    }), options);
  });

  it('L6 while nothing is commanded what remains never grows and the projected end never comes nearer', () => {
    fc.assert(fc.property(plans, presses, (plan, hands) => {
      const h = hold(plan);
      for (const press of hands) {
        let remaining = remainingMs(h.session, placeAt(h.session, h.at));
        let end = finish(h.session, h.at).endAt as number;
        for (const part of [0.3, 0.3, 0.4]) {
          h.wait(Math.round(press.ticks * 100 * part));
          const place = placeAt(h.session, h.at);
          const now = { remaining: remainingMs(h.session, place), end: finish(h.session, h.at).endAt as number };
          if (now.remaining > remaining || now.end < end) expect(now).toEqual({ remaining, end });
          const interval = h.session.intervals[place.index];
          const mayGrow = h.session.pause || (interval?.ends === 'go' && place.elapsedMs > interval.lengthMs) || place.over;
          if (!mayGrow) same(now.end, end);
          ({ remaining, end } = now);
        }
        h.press(press);
      }
    }), options);
  });

  it('L7 without move on, again and changes on the second side, every pair is even when it is done', () => {
    fc.assert(fc.property(plans, presses, (plan, hands) => {
      const h = hold(plan);
      for (const press of hands) {
        h.wait(press.ticks * 100);
        const place = placeAt(h.session, h.at);
        const now = h.session.intervals[place.index];
        const second = now?.pair !== undefined && !h.session.intervals.some((i, k) => k > place.index && i.pair === now.pair);
        const harmless = ['go', 'wait', 'pause', 'carry-on', 'change-sides'].includes(press.kind)
          || (press.kind === 'extend' && !second) || (press.kind === 'shorten' && !second);
        if (harmless) h.press(press);
      }
      const place = placeAt(h.session, h.at);
      for (const [pair, { left, right }] of Object.entries(h.settledSides())) {
        const open = h.session.intervals.some((i, k) => i.pair === pair && k >= place.index);
        const byRound = plan.sections.some((s) => s.sides === 'by-round' || s.items.some((i) => i.sides === 'by-round'));
        if (!open && !byRound) expect(left).toBe(right);
      }
    }), options);
  });

  it('L9 no name of an interval comes back once it has been left', () => {
    fc.assert(fc.property(plans, presses, (plan, hands) => {
      const h = hold(plan);
      const left = new Set<string>();
      let here = view(h.session, h.at).occurrence;
      const look = () => {
        const now = view(h.session, h.at).occurrence;
        if (left.has(now)) expect(now).toBe('a name that has not been left');
        if (now !== here && !now.startsWith('over')) left.add(here);
        here = now;
      };
      for (const press of hands) {
        h.wait(press.ticks * 100);
        look();
        h.press(press);
        look();
      }
    }), options);
  });

  it('L10 a model that walks in ticks of 100 ms and shares no code agrees at every tick', () => {
    let compared = 0;
    fc.assert(fc.property(plans, presses, (plan, hands) => {
      const h = hold(plan);
      const ready = (m: string) => floorTimeMs(factsFor(facts, m).start, plan.group);
      const turn = (m: string) => otherSideMs(m === '' ? 'standing' : factsFor(facts, m).start, plan.group);
      const model = new TickModel(compile(plan, facts).intervals, ready, turn);
      const coolDowns = plan.sections.map((s) => s.kind === 'cool-down');
      const agree = () => {
        const place = placeAt(h.session, h.at);
        compared += 1;
        const same = place.over ? model.over : !model.over && place.index === model.cursor && place.elapsedMs === model.elapsed && place.countInMs === model.fill;
        if (same) return;
        expect([place.over !== null, model.over ? -1 : place.index, model.over ? 0 : place.elapsedMs, place.countInMs])
          .toEqual([model.over, model.over ? -1 : model.cursor, model.over ? 0 : model.elapsed, model.fill]);
      };
      agree();
      for (const press of hands) {
        for (let t = 0; t < press.ticks; t += 1) {
          h.wait(100);
          model.tick();
          agree();
        }
        const stopped = h.session.pause?.stop !== undefined && h.session.pause.stop !== null && !model.over;
        const taken = h.press(press);
        const event = taken ? h.events.at(-1) : undefined;
        if (isChange(press.kind)) {
          if (event && 'edit' in event) changeList(model, event.edit, event.type === 'repeated' ? event.to : null);
        } else if (press.kind === 'to-cool-down') expect([press.kind, taken]).toEqual([press.kind, !press.stale && !stopped && leaveFor(model, coolDowns)]);
        else expect([press.kind, taken]).toEqual([press.kind, model.press(press)]);
        agree();
        const owed = owedSide(h.session, h.at);
        const said = model.owes();
        if (owed?.pair !== said?.pair || (owed && owed.ms !== Math.abs(said?.by ?? 0))) expect(owed).toEqual(said);
        const a = ledger(h.session, h.at).accounts;
        for (const k of ['countIn', 'paused', 'keepMoving', 'stopped', 'left', 'right', 'together', 'rest', 'show'] as const) same(a[k], model.spent[k] ?? 0);
      }
    }), options);
    expect(compared).toBeGreaterThan(100_000);
  });
});
