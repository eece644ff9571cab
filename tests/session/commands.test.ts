/** Holds the commands by example; random classes hold them all together (tests/property). */
import { describe, expect, it } from 'vitest';
import { ledger } from '../../shared/session/ledger.ts';
import { view } from '../../shared/view/view.ts';
import { class_, into, main, now, occurrence, press, sided, why } from './hands.ts';

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
    expect(h.session.pause).toMatchObject({ number: 1, since, reason: 'water', what: 'pause' });
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
});
