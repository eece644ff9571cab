/** Holds by example what changes the class: sides, lengths, the end, and what the ledger says of it. */
import { describe, expect, it } from 'vitest';
import { projectedEndAt } from '../../shared/session/finish.ts';
import { ledger, owedSide, unevenSides } from '../../shared/session/ledger.ts';
import { placeAt, remainingMs } from '../../shared/session/place.ts';
import { after } from '../../shared/time/units.ts';
import { view } from '../../shared/view/view.ts';
import { hold, START } from '../random/class.ts';
import { facts } from '../random/plans.ts';
import { class_, into, main, now, occurrence, press, sided, why } from './hands.ts';

describe('changes', () => {
  it('S13 change sides ends this side and gives the other the same; refused under 3 s, on the last side and where there are none', () => {
    const h = into(class_(sided()), 2_000);
    expect(why(h, { type: 'change-sides', occurrence: occurrence(h) })).toBe('too-soon');
    h.wait(4_000);
    press(h, 'change-sides');
    expect(now(h)).toBe('other-side 0.1.0.other 5');
    h.wait(5_000);
    expect(now(h)).toBe('work 0.1.0.left 6');
    expect(why(h, { type: 'change-sides', occurrence: occurrence(h) })).toBe('last-side');
    h.wait(20_000);
    expect(why(h, { type: 'change-sides', occurrence: occurrence(h) })).toBe('no-sides');
    expect(owedSide(h.session, h.at)).toBeNull();
  });

  it('S14 extend gives both sides the same; on the last side the first is owed it', () => {
    const h = into(class_(sided()), 1_000);
    press(h, 'extend');
    expect(h.session.intervals.filter((i) => i.pair).map((i) => i.lengthMs)).toEqual([25_000, 25_000]);
    h.wait(24_000 + 5_000 + 1_000);
    press(h, 'extend');
    expect(h.session.intervals.filter((i) => i.pair).map((i) => i.lengthMs)).toEqual([25_000, 35_000]);
    expect(owedSide(h.session, h.at)).toEqual({ pair: '0.1.0', side: 'right', ms: 10_000, follows: true });
  });

  it('S15 shorten takes what both sides can give and leaves 3 s; nothing to give is refused', () => {
    const h = into(class_(sided()), 8_000);
    press(h, 'shorten');
    expect(h.session.intervals.filter((i) => i.pair).map((i) => i.lengthMs)).toEqual([11_000, 11_000]);
    expect(why(h, { type: 'shorten', occurrence: occurrence(h), byMs: 10_000 })).toBe('nothing-to-give');
    // Back on the first side after a change at 6 s: the other has only 3 s left to give.
    const uneven = into(class_(sided()), 6_000);
    press(uneven, 'change-sides');
    press(uneven, 'again');
    press(uneven, 'shorten');
    expect(uneven.session.intervals.filter((i) => i.pair).map((i) => i.lengthMs)).toEqual([12_000, 3_000]);
  });

  it('S16 what ends on go has no seconds to change', () => {
    const h = into(class_(main({ ends: 'go' })), 1_000);
    expect(why(h, { type: 'extend', occurrence: occurrence(h), byMs: 10_000 })).toBe('ends-on-go');
    expect(why(h, { type: 'shorten', occurrence: occurrence(h), byMs: 10_000 })).toBe('ends-on-go');
  });

  it('S17 even up on the last side follows it; two quick moves-on do not lose it; it is offered once', () => {
    const h = into(class_(sided({ items: [{ movement: 'lunge' }, { movement: 'squat' }, { movement: 'squat' }] })), 8_000);
    press(h, 'move-on');
    press(h, 'move-on');
    press(h, 'move-on');
    expect(owedSide(h.session, h.at)).toEqual({ pair: '0.1.0', side: 'left', ms: 8_000, follows: false });
    const interrupted = view(h.session, h.at).interval?.id;
    press(h, 'even-up');
    expect(now(h)).toBe('other-side 0.1.0.even.o 5');
    h.wait(5_000);
    expect(now(h)).toBe('work 0.1.0.even.w 8');
    expect(owedSide(h.session, h.at)).toBeNull();
    h.wait(8_000);
    expect(view(h.session, h.at).interval?.id).toBe(interrupted);
    expect(unevenSides(h.session, h.at)).toEqual([]);
  });

  it('S18 a class is over when it runs out, when it is ended, or after two hours of one pause or one wait', () => {
    const out = into(class_(main({ rest: 0, setUp: 0, items: [{ movement: 'squat' }] })), 40_000);
    expect(placeAt(out.session, out.at).over).toEqual({ at: out.at, how: 'ran-out' });
    const paused = into(class_(main()), 10_000);
    press(paused, 'pause');
    const since = paused.at;
    paused.wait(1_000);
    paused.say({ type: 'pause', reason: 'form' });
    paused.wait(7_300_000);
    expect(placeAt(paused.session, paused.at).over).toEqual({ at: after(since, 7_200_000), how: 'forgotten' });
    const waits = class_({ id: 'w', kind: 'welcome', talk: 60 });
    waits.wait(7_200_000);
    expect(placeAt(waits.session, waits.at).over).toEqual({ at: after(START, 7_200_000), how: 'forgotten' });
    for (const kind of ['go', 'pause', 'again', 'end'] as const) expect(press(waits, kind), kind).toBe(false);
    expect(press(waits, 'note') && press(waits, 'head-count')).toBe(true);
  });

  it('S19 move on and extend are taken while paused and leave it paused, and carrying on owes the count-in there', () => {
    const h = into(class_(main()), 10_000);
    press(h, 'pause');
    expect(press(h, 'extend') && press(h, 'move-on') && press(h, 'move-on')).toBe(true);
    expect([h.session.pause?.number, view(h.session, h.at).interval?.id]).toEqual([1, '0.1.1.set-up']);
    press(h, 'carry-on');
    expect(h.session.anchor.countInMs).toBe(0);
  });

  it('S20 a class starts only where none runs, and only with a plan that can run', () => {
    const h = class_(main());
    const start = { type: 'start', session: 't', room: 'r', plan: h.session.plan, facts, settings: { countInMs: 3_000 }, freeAt: null } as const;
    expect(why(h, start)).toBe('already-running');
    press(h, 'end');
    expect(why(h, start)).toBe('taken');
    expect(why(h, { ...start, facts: {} })).toBe('bad-plan');
  });

  it('L5 what an end cuts off, and what a forgotten class leaves, counts as skipped', () => {
    const h = into(class_(main()), 10_000);
    const left = remainingMs(h.session, placeAt(h.session, h.at));
    press(h, 'end');
    expect(h.session.sums.skipped).toBe(left);
    const f = into(class_(main()), 10_000);
    press(f, 'pause');
    f.wait(8_000_000);
    expect(ledger(f.session, f.at).sums.skipped).toBe(left);
  });

  it('L8 sides that stayed uneven are reported with the difference', () => {
    const h = into(class_(sided()), 9_000);
    press(h, 'move-on');
    h.wait(30_000);
    expect(unevenSides(h.session, h.at)).toEqual([{ pair: '0.1.0', byMs: -9_000 }]);
  });

  it('F2 the room is promised the time the floor must be free, or the end as projected at the start, whatever comes', () => {
    const h = into(class_(main()), 5_000);
    const promised = h.session.promisedAt;
    expect(promised).toBe(START + 123_000);
    press(h, 'extend');
    expect([h.session.promisedAt, projectedEndAt(h.session, h.at)]).toEqual([promised, promised + 10_000]);
    expect(hold(h.session.plan, after(START, 900_000)).session.promisedAt).toBe(START + 900_000);
  });
});
