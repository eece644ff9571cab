/** Holds each command by example; random classes hold them all together (tests/property). */
import { describe, expect, it } from 'vitest';
import type { PlanInput } from '../../shared/plan/plan.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import { decide } from '../../shared/session/decide.ts';
import { projectedEndAt } from '../../shared/session/finish.ts';
import { ledger, owedSide, unevenSides } from '../../shared/session/ledger.ts';
import { placeAt, remainingMs } from '../../shared/session/place.ts';
import { after } from '../../shared/time/units.ts';
import { view } from '../../shared/view/view.ts';
import { type Hands, hold, START } from '../random/class.ts';
import { facts, type Kind } from '../random/plans.ts';

type SectionInput = PlanInput['sections'][number];
const class_ = (...sections: SectionInput[]): Hands => hold(planSchema.parse({ format: 1, id: 'p', name: 'P', sections }));
const main = (s: Partial<SectionInput> = {}): SectionInput => ({ id: 'm', kind: 'main', show: 'none', work: 40, rest: 20, items: [{ movement: 'squat' }, { movement: 'bridge' }], ...s });
const sided = (s: Partial<SectionInput> = {}): SectionInput => main({ work: 30, setUp: 0, items: [{ movement: 'lunge' }, { movement: 'squat' }], rest: 10, ...s });
const press = (h: Hands, kind: Kind, n = 10) => h.press({ ticks: 0, kind, n, stale: false });
const now = (h: Hands) => { const v = view(h.session, h.at); return `${v.phase} ${v.interval?.id ?? ''} ${v.seconds ?? ''}`.trim(); };
const why = (h: Hands, command: Parameters<typeof decide>[1]) => { const d = decide(h.session, command, h.at); return 'refused' in d ? d.refused.reason : 'taken'; };
const occurrence = (h: Hands) => view(h.session, h.at).occurrence;
/** Past the count-in that starting owes, and so much further. */
const into = (h: Hands, ms: number) => { h.wait(3_000 + ms); return h; };

describe('commands', () => {
  it('S2 an interval holds its first millisecond and not its last', () => {
    const h = into(class_(main()), 0);
    expect(now(h)).toBe('work 0.1.0.work 40');
    h.wait(39_999);
    expect(now(h)).toBe('work 0.1.0.work 1');
    h.wait(1);
    expect(now(h)).toBe('rest 0.1.1.rest 12');
  });

  it('S3 a command that saw an occurrence which is over is refused as too late, and so is one for a name that came back', () => {
    const h = into(class_(main()), 5_000);
    const seen = occurrence(h);
    press(h, 'again');
    expect(why(h, { type: 'extend', occurrence: seen, byMs: 10_000 })).toBe('too-late');
    expect(why(h, { type: 'extend', occurrence: occurrence(h), byMs: 10_000 })).toBe('taken');
  });

  it('S4 pause, note, head count and end name no interval and are never too late while the class runs', () => {
    const h = into(class_(main()), 50_000);
    for (const command of [{ type: 'pause', reason: null }, { type: 'note', text: 'knees' }, { type: 'head-count', n: 14 }, { type: 'end' }] as const) {
      expect(why(h, command), command.type).toBe('taken');
    }
  });

  it('S5 the count-in is 3 s standing, the floor time on the floor, and what lies before the work counts in', () => {
    expect(class_(main()).session.anchor.countInMs).toBe(3_000);
    const after_ = (ms: number) => { const h = into(class_(main()), ms); press(h, 'pause'); press(h, 'carry-on'); return h.session.anchor.countInMs; };
    expect(after_(10_000)).toBe(3_000);
    // In the set-up for the bridge (8 s, on the back): with 8 s left nothing is owed, with 1 s left 7.
    expect(after_(40_000 + 12_000)).toBe(0);
    expect(after_(40_000 + 12_000 + 7_000)).toBe(7_000);
    expect(after_(60_000)).toBe(8_000);
    expect(class_({ id: 'w', kind: 'welcome', talk: 60 }, main()).session.anchor.countInMs).toBe(0);
  });

  it('S6 go ends what waits for it, and the class if that was the last; it is refused while paused and where nothing waits', () => {
    const h = class_({ id: 'w', kind: 'welcome', talk: 60 }, main({ items: [{ movement: 'squat' }], rest: 0 }), { id: 'c', kind: 'clear-up', talk: 60 });
    h.wait(70_000);
    press(h, 'pause');
    expect(why(h, { type: 'go', occurrence: occurrence(h) })).toBe('paused');
    press(h, 'carry-on');
    expect(press(h, 'go')).toBe(true);
    expect(now(h)).toBe('count-in 1.1.0.set-up 3');
    into(h, 10_000);
    expect(why(h, { type: 'go', occurrence: occurrence(h) })).toBe('nothing-waits');
    h.wait(31_000);
    expect(now(h)).toBe('talk 2.talk');
    press(h, 'go');
    expect(h.session.over).toEqual({ at: h.at, how: 'ran-out' });
  });

  it('S7 go in a set-up starts the count-in now; in the count-in it is refused', () => {
    const h = into(class_(main()), 52_000);
    expect(now(h)).toBe('set-up 0.1.1.set-up 8');
    press(h, 'go');
    expect(now(h)).toBe('count-in 0.1.1.set-up 3');
    expect(why(h, { type: 'go', occurrence: occurrence(h) })).toBe('counting-in');
    expect(ledger(h.session, h.at).sums.skipped).toBe(5_000);
  });

  it('S7 go in a long count-in on the floor leaves 3 s of it', () => {
    const h = into(class_(main()), 70_000);
    press(h, 'pause');
    press(h, 'carry-on');
    expect(now(h)).toBe('set-up 0.1.1.work 8');
    press(h, 'go');
    expect(now(h)).toBe('count-in 0.1.1.work 3');
  });

  it('S8 wait makes a set-up end on go, and then 3 s are counted in', () => {
    const h = into(class_(main()), 54_000);
    expect(press(h, 'wait')).toBe(true);
    expect(why(h, { type: 'wait', occurrence: occurrence(h) })).toBe('waiting-already');
    h.wait(60_000);
    expect(view(h.session, h.at).waits).toBe(true);
    press(h, 'go');
    expect(now(h)).toBe('count-in 0.1.1.work 3');
    expect(why(h, { type: 'wait', occurrence: occurrence(h) })).toBe('not-a-set-up');
  });

  it('S9 a pause keeps its reason, paused again it only takes a new one, and carry on names its pause', () => {
    const h = into(class_(main()), 5_000);
    h.say({ type: 'pause', reason: null });
    const since = h.session.pause?.since;
    h.wait(2_000);
    h.say({ type: 'pause', reason: 'water' });
    expect(h.session.pause).toEqual({ number: 1, since, reason: 'water' });
    expect(why(h, { type: 'carry-on', pause: 2 })).toBe('too-late');
    h.say({ type: 'carry-on', pause: 1 });
    expect(why(h, { type: 'carry-on', pause: 1 })).toBe('not-paused');
  });

  it('S10 pausing in a count-in ends it, and the next counts in afresh', () => {
    const h = class_(main());
    h.wait(2_000);
    press(h, 'pause');
    h.wait(60_000);
    press(h, 'carry-on');
    expect(h.session.anchor.countInMs).toBe(3_000);
    expect(ledger(h.session, h.at).accounts.countIn).toBe(2_000);
  });

  it('S11 again restarts; within 3 s it goes to the start of the movement, then to the one before, with lengths as they last were', () => {
    const h = into(class_(main()), 65_000);
    press(h, 'extend');
    press(h, 'again');
    expect([now(h), view(h.session, h.at).interval?.lengthMs]).toEqual(['set-up 0.1.1.work 8', 50_000]);
    press(h, 'again');
    expect(now(h)).toBe('set-up 0.1.1.set-up 8');
    press(h, 'again');
    expect(now(h)).toBe('count-in 0.1.0.work 3');
    press(h, 'again');
    expect(now(h)).toBe('count-in 0.1.0.work 3');
  });

  it('S12 move on leaves both sides of a movement, a rest by itself, and is refused in the last', () => {
    const h = into(class_(sided({ lastRest: false })), 5_000);
    press(h, 'move-on');
    expect(now(h)).toBe('rest 0.1.1.rest 10');
    press(h, 'move-on');
    expect(now(h)).toBe('count-in 0.1.1.work 3');
    expect(why(h, { type: 'move-on', occurrence: occurrence(h) })).toBe('last-movement');
    const rested = into(class_(main({ items: [{ movement: 'squat' }] })), 5_000);
    expect(why(rested, { type: 'move-on', occurrence: occurrence(rested) })).toBe('last-movement');
  });

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
