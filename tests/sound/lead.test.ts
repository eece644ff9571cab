/** Holds that what a command says has an instant that every screen can meet, and what becomes of what was due just then. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PlanInput, planSchema } from '../../shared/plan/plan.ts';
import type { Session } from '../../shared/session/session.ts';
import { after, type ServerAt } from '../../shared/time/units.ts';
import { keyOf, LEAD_MS, type SignalKind } from '../../shared/view/signal-kinds.ts';
import { due, follow, newPlayer, type Player, upcoming } from '../../shared/view/signal-player.ts';
import { hold, type Hands, START } from '../random/class.ts';
import { plans, presses } from '../random/plans.ts';

const wish = { halfway: true };
const options = { numRuns: 150 };
const squat: PlanInput = {
  format: 1, id: 'p', name: 'P',
  sections: [{ id: 'm', kind: 'main', show: 'none', work: 30, rest: 10, rounds: 1, items: [{ movement: 'squat' }] }],
};
const begin = () => hold(planSchema.parse(squat));
const until = (h: Hands, second: number) => h.wait(START + second * 1_000 - h.at);
const kinds = (p: Player, h: Hands, ms: number): [SignalKind, number][] =>
  upcoming(p, after(h.at, -200), after(h.at, ms), wish).map((s) => [s.kind, s.at - h.at]);

describe('what a command says', () => {
  it('C140 is heard 120 ms after it: the first three of a start, a pause, carrying on', () => {
    expect(LEAD_MS).toBe(120);
    const h = begin();
    let p = follow(newPlayer, h.session, 1, wish, h.at);
    expect(kinds(p, h, 3_100)).toEqual([['three', 120], ['two', 1_000], ['one', 2_000], ['go', 3_000]]);
    until(h, 10);
    h.say({ type: 'pause', reason: null });
    p = follow(p, h.session, 2, wish, h.at);
    expect(kinds(p, h, 60_000)).toEqual([['paused', 120]]);
    // A screen that comes just then gives it at the same instant as the others.
    expect(kinds(follow(newPlayer, h.session, 2, wish, after(h.at, 80)), h, 60_000)).toEqual([['paused', 120]]);
    h.wait(5_000);
    h.say({ type: 'carry-on', pause: 1 });
    p = follow(p, h.session, 3, wish, h.at);
    expect(kinds(p, h, 3_100)).toEqual([['resumed', 120], ['two', 1_000], ['one', 2_000], ['go', 3_000]]);
  });

  it('C140 a stop silences at once, what was settled too', () => {
    const h = begin();
    until(h, 2.95);
    const p = follow(newPlayer, h.session, 1, wish, h.at);
    expect(kinds(p, h, 100)).toEqual([['go', 50]]);
    h.say({ type: 'stop' });
    expect(upcoming(follow(p, h.session, 2, wish, h.at), after(h.at, -500), after(h.at, 60_000), wish)).toEqual([]);
  });

  it('C141 what was due within the lead comes at its own instant, whatever the command is; what lies further off does not', () => {
    for (const [before, stays] of [[0.1, true], [0.13, false]] as const) {
      const h = begin();
      until(h, 3 - before);
      let p = follow(newPlayer, h.session, 1, wish, h.at);
      h.say({ type: 'pause', reason: null });
      p = follow(p, h.session, 2, wish, h.at);
      expect(kinds(p, h, 60_000).filter(([kind]) => kind !== 'paused')).toEqual(stays ? [['go', before * 1_000]] : []);
    }
    const h = begin();
    until(h, 2.95);
    const p = follow(newPlayer, h.session, 1, wish, h.at);
    h.say({ type: 'note', text: 'n' });
    expect(kinds(follow(p, h.session, 2, wish, h.at), h, 100)).toEqual([['go', 50]]);
  });

  it('C140 C141 whenever a device hears of the commands within the lead, it gives the same signals at the same instants', () => {
    const delay = fc.array(fc.integer({ min: 0, max: LEAD_MS - 1 }), { minLength: 8, maxLength: 8 });
    let seen = 0;
    fc.assert(fc.property(plans, presses, delay, (plan, hands, delays) => {
      const h = hold(plan);
      const told: { session: Session; at: ServerAt }[] = [{ session: h.session, at: h.at }];
      for (const press of hands) {
        h.wait(press.ticks * 100 + 500);
        const before = h.events.length;
        h.press(press);
        if (h.events.length > before) told.push({ session: h.session, at: h.at });
      }
      const endAt = after(h.at, 20_000);
      /** Gives by the millisecond; hears of each command so much later. */
      const gives = (late: (i: number) => number): string[] => {
        let p = follow(newPlayer, told[0]?.session ?? null, 1, wish, told[0]?.at ?? endAt);
        const given: string[] = [];
        told.forEach((_, i) => {
          const next = told[i + 1];
          const upto = next ? after(next.at, late(i)) : endAt;
          // One look at each instant at which something comes is all that a device could do.
          for (const s of upcoming(p, after(told[i]?.at ?? endAt, -250), after(upto, 1), wish)) {
            const step = due(p, wish, s.at);
            p = step.player;
            given.push(...step.signals.map(keyOf));
          }
          if (next) p = follow(p, next.session, i + 2, wish, upto);
        });
        return [...new Set(given)].sort();
      };
      const atOnce = gives(() => 0);
      seen += atOnce.length;
      expect(gives((i) => delays[i % delays.length] ?? 0)).toEqual(atOnce);
    }), options);
    expect(seen).toBeGreaterThan(500);
  });
});
