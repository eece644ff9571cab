/** Holds that a rehearsal is the same class, however fast its clock runs. */
import { describe, expect, it } from 'vitest';
import type { FactsOf } from '../../../shared/plan/facts.ts';
import { planSchema } from '../../../shared/plan/plan.ts';
import { controls } from '../../../shared/view/controls.ts';
import { type ServerAt, serverAt } from '../../../shared/time/units.ts';
import { type View, view } from '../../../shared/view/view.ts';
import { amongNobody } from '../../../shared/wire/messages/people.ts';
import { english } from '../../../shared/words/languages.ts';
import { faster, rateOf, slower } from './rate.ts';
import { rateClock } from './rate-clock.ts';
import { openRehearsal } from './rehearsal.ts';

const facts: FactsOf = {
  squat: { name: 'Squat', start: 'standing', end: 'standing', sides: 'together' },
  bridge: { name: 'Glute bridge', start: 'face-up', end: 'face-up', sides: 'together' },
  lunge: { name: 'Reverse lunge', start: 'standing', end: 'standing', sides: 'each', phrases: { left: 'left leg back', right: 'right leg back' } },
};
const plan = planSchema.parse({
  format: 1, id: 'short', name: 'Short class', sections: [
    { id: 'hello', kind: 'welcome', talk: 30 },
    { id: 'main', kind: 'main', show: 'each', rounds: 2, work: 30, rest: 10, items: [{ movement: 'squat' }, { movement: 'lunge' }, { movement: 'bridge' }] },
    { id: 'bye', kind: 'clear-up', talk: 20 },
  ],
});
const about = {
  room: { id: 'rehearsal', name: 'Rehearsal', pattern: 0 }, studio: { name: 'Studio', timeZone: 'UTC' }, version: '', pairing: null, chosen: null,
  present: { screens: 1, phones: 0 }, ...amongNobody,
};
const T0 = 1_800_000_000_000;
/** Frames that no second of the plan falls on. */
const FRAME_MS = 7;
/** Class times at which every rate here has a frame. */
const LOOK_MS = 20 * FRAME_MS;

/** A class from start to end, frame by frame; the big control is pressed at these class times. */
async function run(rateAt: (classMs: number) => number, presses: readonly number[] = []) {
  let deviceMs = 5_000;
  const clock = rateClock(serverAt(T0), rateAt(0), () => deviceMs);
  const opened = openRehearsal({ plan, facts, now: clock.now, about });
  if ('refused' in opened) throw new Error(opened.refused.sentence);
  const views: View[] = [];
  const left = [...presses];
  for (;;) {
    const classMs = clock.now() - T0;
    opened.step();
    const { session } = opened.room();
    if (!session) throw new Error('no class');
    if (classMs % LOOK_MS === 0) {
      if (left[0] === classMs) {
        left.shift();
        const { big } = controls(session, clock.now());
        if (big) expect(await opened.room().send(big)).toEqual({ done: true });
      }
      const now = opened.room().session;
      const v = now && view(now, clock.now());
      if (v) views.push(v);
      if (v?.over) return { views, events: opened.events() };
    }
    if (classMs % LOOK_MS === 0 && rateAt(classMs) !== clock.rate()) clock.setRate(rateAt(classMs));
    deviceMs += FRAME_MS;
  }
}

describe('a rehearsal', () => {
  it('F20 a rehearsal is the same class: at 20 times the speed it has the same views at the same class times, and the same log', async () => {
    const once = await run(() => 1);
    const twenty = await run(() => 20);
    expect(twenty.views).toEqual(once.views);
    expect(twenty.events).toEqual(once.events);
    expect(new Set(once.views.map((v) => v.phase))).toEqual(new Set(['talk', 'watch', 'set-up', 'count-in', 'work', 'other-side', 'rest', 'over']));
  });

  it('F20 the same presses at the same class times make the same class at every rate, and where the rate changes on the way', async () => {
    const presses = [12_040, 60_060, 80_080, 200_060, 230_020];
    const once = await run(() => 1, presses);
    expect(once.events.filter((e) => e.type === 'paused')).not.toEqual([]);
    for (const rates of [() => 20, (ms: number) => (ms < 50_000 ? 5 : ms < 150_000 ? 20 : 2)]) {
      const other = await run(rates, presses);
      expect(other.views).toEqual(once.views);
      expect(other.events).toEqual(once.events);
    }
  });

  it('F21 go is said by itself, at the instant at which what waits has taken as long as expected; a page that slept says all of them', () => {
    let deviceMs = 0;
    const clock = rateClock(serverAt(T0), 20, () => deviceMs);
    const opened = openRehearsal({ plan, facts, now: clock.now, about });
    if ('refused' in opened) throw new Error(opened.refused.sentence);
    deviceMs = 3_600_000;
    opened.step();
    const went = opened.events().filter((e) => e.type === 'went');
    expect(went[0]?.at).toBe((T0 + 30_000) as ServerAt);
    const { session } = opened.room();
    expect(session && view(session, clock.now()).over).toMatchObject({ how: 'ran-out' });
  });

  it('F22 a rehearsal runs 1 to 20 times as fast, and says so', () => {
    expect([null, '', 'x', '0', '1', '7.4', '99'].map(rateOf)).toEqual([10, 10, 10, 1, 1, 7, 20]);
    expect([faster(1), faster(10), faster(20), slower(20), slower(7), slower(1)]).toEqual([2, 15, 20, 15, 5, 1]);
    expect([1, 2, 3, 10, 20].map(english.say.rehearsal.rate)).toEqual([
      'Rehearsal, as fast as the class', 'Rehearsal, twice as fast', 'Rehearsal, three times as fast', 'Rehearsal, ten times as fast',
      'Rehearsal, twenty times as fast',
    ]);
  });
});
