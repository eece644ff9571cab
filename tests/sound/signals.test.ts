/** Holds the signals against random classes: apart, once, in step with the view, and the same however time is cut. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeAt } from '../../shared/session/place.ts';
import { after, between, type ServerAt } from '../../shared/time/units.ts';
import { APART_MS, keyOf, LATE_MS, type Signal } from '../../shared/view/signal-kinds.ts';
import { due, follow, newPlayer, type Player, upcoming } from '../../shared/view/signal-player.ts';
import { signalsBetween } from '../../shared/view/signals.ts';
import { view } from '../../shared/view/view.ts';
import { type Hands, hold } from '../random/class.ts';
import { plans, presses } from '../random/plans.ts';

const options = { numRuns: 200 };
const wish = { halfway: true };
const MINUTE_MS = 60_000;

/** Walks a random class and looks before every press. */
const each = (look: (h: Hands) => void) => fc.assert(fc.property(plans, presses, (plan, hands) => {
  const h = hold(plan);
  look(h);
  for (const press of hands) {
    h.wait(press.ticks * 100);
    h.press(press);
    look(h);
  }
}), options);

const next = (h: Hands): readonly Signal[] => signalsBetween(h.session, h.at, after(h.at, MINUTE_MS), wish);

describe('signals of random classes', () => {
  it('C8 no two signals are nearer than they can be told apart, and how time is cut changes nothing', () => {
    let seen = 0;
    each((h) => {
      const whole = next(h);
      seen += whole.length;
      whole.forEach((signal, i) => {
        const before = whole[i - 1];
        if (before) expect(between(before.at, signal.at)).toBeGreaterThanOrEqual(APART_MS);
      });
      const cuts = [0, 1, 2_999, 3_000, 7_777, 31_000, MINUTE_MS].map((ms) => after(h.at, ms));
      expect(cuts.slice(1).flatMap((to, i) => signalsBetween(h.session, cuts[i] as ServerAt, to, wish))).toEqual(whole);
    });
    expect(seen).toBeGreaterThan(3_000);
  });

  it('C1 C2 C12 signals agree with the view: counting, going, closing, and over', () => {
    const counts = { three: 3, two: 2, one: 1, 'last-three': 3, 'last-two': 2, 'last-one': 1 } as const;
    each((h) => {
      for (const signal of next(h)) {
        const now = view(h.session, signal.at);
        const just = view(h.session, after(signal.at, -1));
        switch (signal.kind) {
          // A show by the clock that reaches up to the work is counted in aloud, while the screen says "watch".
          case 'three': case 'two': case 'one': if (now.interval?.kind !== 'show') expect([now.phase, now.seconds]).toEqual(['count-in', counts[signal.kind]]); break;
          case 'go': expect(now.phase).toBe('work'); break;
          case 'last-three': case 'last-two': case 'last-one':
            expect([now.closing, now.phase]).toEqual([true, 'work']);
            if (now.seconds !== null) expect(now.seconds).toBe(counts[signal.kind]);
            break;
          case 'ten-left': case 'halfway': expect(now.phase).toBe('work'); break;
          case 'side-change': expect([just.phase, now.interval?.kind]).toEqual(['work', 'other-side']); break;
          case 'end': case 'section-end': expect(just.phase).toBe('work'); break;
          case 'class-end': expect(now.phase).toBe('over'); break;
          case 'paused': expect(now.paused).not.toBeNull(); break;
          case 'resumed': throw new Error('a session alone does not know that it carried on');
        }
      }
    });
  });

  it('C1 C3 each time the view begins to work or ends it there is a signal, at an end to the millisecond', () => {
    each((h) => {
      const signals = next(h);
      let at = h.at;
      for (let n = 0; n < 200; n += 1) {
        const seen = view(h.session, at);
        if (seen.nextEdgeAt === null || between(h.at, seen.nextEdgeAt) >= MINUTE_MS) break;
        const then = view(h.session, seen.nextEdgeAt);
        at = seen.nextEdgeAt;
        const [was, is] = [seen.phase === 'work', then.phase === 'work'];
        if (was && !is) expect(signals.some((s) => s.at === at)).toBe(true);
        // Go gives way where the work is all but over.
        if (!was && is) expect(signals.some((s) => s.at - at < APART_MS && s.at >= at)).toBe(true);
      }
    });
  });

  it('C9 frames at any times give each signal once and never an old one, through every command', () => {
    const frames = fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 20, maxLength: 60 });
    fc.assert(fc.property(plans, presses, frames, (plan, hands, gaps) => {
      const h = hold(plan);
      let seq = 1;
      let frame = 0;
      let player: Player = follow(newPlayer, h.session, seq, wish, h.at);
      const given = new Set<string>();
      const look = (at: ServerAt) => {
        const step = due(player, wish, at);
        player = step.player;
        for (const signal of step.signals) {
          expect(given.has(keyOf(signal))).toBe(false);
          expect(at - signal.at).toBeLessThanOrEqual(LATE_MS);
          expect(signal.at <= at).toBe(true);
          given.add(keyOf(signal));
        }
      };
      for (const press of hands) {
        const until = after(h.at, press.ticks * 100);
        const from = h.at;
        // A signal that no command disturbs is given if any frame comes in time.
        const expected = upcoming(player, from, after(until, -LATE_MS), wish);
        let worst = 0;
        for (let at = h.at; at < until;) {
          const gap = gaps[frame % gaps.length] ?? 1;
          worst = Math.max(worst, gap);
          frame += 1;
          at = after(at, Math.min(gap, between(at, until)));
          look(at);
        }
        if (worst < LATE_MS) for (const signal of expected) expect(given.has(keyOf(signal)), keyOf(signal)).toBe(true);
        h.wait(press.ticks * 100);
        h.press(press);
        if (h.events.length !== seq) {
          seq = h.events.length;
          player = follow(player, h.session, seq, wish, h.at);
        }
        look(h.at);
      }
    }), options);
  });

  it('C7 a pause moves what is still to come by exactly its length and the count-in', () => {
    fc.assert(fc.property(plans, fc.integer({ min: 0, max: 90_000 }), fc.integer({ min: 600, max: 90_000 }), (plan, run, rest) => {
      const h = hold(plan);
      h.wait(run);
      const place = placeAt(h.session, h.at);
      if (place.over || place.countInMs > 0) return;
      const before = signalsBetween(h.session, h.at, after(h.at, MINUTE_MS), wish);
      h.say({ type: 'pause', reason: null });
      h.wait(rest);
      h.say({ type: 'carry-on', pause: 1 });
      const { countInMs } = h.session.anchor;
      const resumed = after(h.at, countInMs + APART_MS);
      const moved = signalsBetween(h.session, resumed, after(h.at, countInMs + MINUTE_MS), wish);
      const wanted = before.map((s) => ({ ...s, at: after(s.at, rest + countInMs) })).filter((s) => s.at >= resumed);
      const counted = (s: Signal) => !['three', 'two', 'one', 'end'].includes(s.kind);
      expect(moved.filter(counted)).toEqual(wanted.filter(counted));
    }), options);
  });
});
