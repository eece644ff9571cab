/** Holds by example what changes the list of a class: rounds, movements, breaks, and taking it back. */
import { describe, expect, it } from 'vitest';
import { ledger } from '../../shared/session/ledger.ts';
import { offers } from '../../shared/session/offers.ts';
import { view } from '../../shared/view/view.ts';
import type { Hands } from '../random/class.ts';
import { facts } from '../random/plans.ts';
import { class_, into, main, now, occurrence, press, sided, why } from './hands.ts';

const three = () => class_(main({ rounds: 3, lastRest: false }), { id: 'c', kind: 'cool-down', work: 60, setUp: 3, items: [{ movement: 'squat' }] });
const round = (h: Hands, section = 0) => offers(h.session, h.at).rounds.find((r) => r.section === section);
const list = (h: Hands, round_: number) => h.session.intervals.filter((i) => i.section === 0 && i.round === round_).map((i) => `${i.kind}${i.side ? `:${i.side}` : ''} ${i.lengthMs / 1_000}`);
const take = (h: Hands, command: Parameters<Hands['say']>[0] | null | undefined) => command !== null && command !== undefined && h.say(command);

describe('changes of the list', () => {
  it('S21 the last round that has not begun goes with its rest; not the only one, not one that has begun, not one nobody saw', () => {
    const h = into(three(), 1_000);
    const drop = round(h)?.drop;
    expect(take(h, drop)).toBe(true);
    expect([list(h, 3), ledger(h.session, h.at).sums.dropped]).toEqual([[], 120_000]);
    expect(drop && why(h, drop)).toBe('too-late');
    take(h, round(h)?.drop);
    expect(round(h)?.drop ?? null).toBeNull();
    expect(why(h, { type: 'drop-round', section: 0, intervals: ['0.1.0.work'] })).toBe('no-round');
    const begun = into(three(), 200_000 + 60_000);
    expect(now(begun)).toBe('work 0.3.0.work 20');
    expect(round(begun)?.drop).toBeNull();
  });

  it('S21 the rest before a dropped round stays where it runs', () => {
    const h = into(class_(main({ rounds: 2, rest: 20 })), 107_000);
    expect(now(h)).toBe('rest 0.2.0.rest 5');
    take(h, round(h)?.drop);
    expect(now(h)).toBe('rest 0.2.0.rest 5');
    expect(list(h, 2)).toEqual(['rest 12']);
  });

  it('S22 an added round is the last one again without shows, leads in turn; two hands add one', () => {
    const h = into(class_(sided({ rounds: 2, show: 'each' })), 0);
    const add = round(h)?.add;
    expect(take(h, add)).toBe(true);
    expect(list(h, 3)).toEqual(['rest 10', 'work:right 15', 'other-side:left 5', 'work:left 15', 'rest 10', 'work 30']);
    expect(add && why(h, add)).toBe('too-late');
    expect(new Set(h.session.intervals.map((i) => i.id)).size).toBe(h.session.intervals.length);
  });

  it('S23 a movement is left out of all rounds that have not begun with it, and what follows gets the set-up it then needs', () => {
    const h = into(class_(main({ rounds: 2, items: [{ movement: 'bridge' }, { movement: 'plank' }, { movement: 'squat' }] })), 0);
    const plank = offers(h.session, h.at).movements.find((m) => m.movement === 'plank');
    expect(take(h, plank?.leaveOut)).toBe(true);
    expect(h.session.intervals.some((i) => i.movement === 'plank')).toBe(false);
    const only = into(class_(main({ rounds: 2, items: [{ movement: 'squat' }] })), 0);
    expect(offers(only.session, only.at).movements.map((m) => m.leaveOut)).toEqual([null]);
    take(h, round(h)?.add);
    expect(h.session.intervals.some((i) => i.movement === 'plank')).toBe(false);
    const up = into(class_(main({ setUp: 3, rest: 10, items: [{ movement: 'squat' }, { movement: 'chair-march' }, { movement: 'bridge' }, { movement: 'plank', setUp: 3 }] })), 0);
    take(up, offers(up.session, up.at).movements.find((m) => m.movement === 'bridge')?.leaveOut);
    expect(up.session.intervals.find((i) => i.id === '0.1.3.set-up')?.lengthMs).toBe(6_000);
  });

  it('S24 a movement is changed for another with its own sides, shown first where its section shows, and kept in rounds added later', () => {
    const h = into(class_(main({ rounds: 2, show: 'each', items: [{ movement: 'squat' }, { movement: 'bridge' }] })), 0);
    press(h, 'go');
    const left = offers(h.session, h.at).movements.find((m) => m.movement === 'bridge');
    const change = { type: 'change' as const, section: 0, item: 1, to: 'lunge', intervals: [...(left?.intervals ?? [])], facts: facts.lunge as NonNullable<typeof facts.lunge> };
    expect(why(h, { ...change, to: 'bridge' })).toBe('same-movement');
    expect(take(h, change)).toBe(true);
    const lunges = h.session.intervals.filter((i) => i.movement === 'lunge' && i.kind !== 'rest').map((i) => `${i.kind}${i.side ? `:${i.side}` : ''}`);
    expect(lunges).toEqual(['show', 'set-up:right', 'work:right', 'other-side:left', 'work:left', 'set-up:left', 'work:left', 'other-side:right', 'work:right']);
    take(h, round(h)?.add);
    expect(h.session.intervals.filter((i) => i.round === 3 && i.movement === 'lunge' && i.kind === 'work')).toHaveLength(2);
  });

  it('S25 a rest runs by the clock and a water break until go; both come after this movement', () => {
    const h = into(class_(main()), 10_000);
    expect(take(h, offers(h.session, h.at).water)).toBe(true);
    expect(h.session.intervals[1]).toMatchObject({ kind: 'talk', ends: 'go', break: 'water' });
    h.wait(30_000);
    expect(view(h.session, h.at).waits).toBe(true);
    take(h, offers(h.session, h.at).rest);
    expect(h.session.intervals[2]).toMatchObject({ kind: 'rest', ends: 'clock', lengthMs: 30_000, break: 'rest' });
  });

  it('S26 the next show is given more time; one that has begun is not', () => {
    const h = class_(main({ show: 'each' }));
    const [first, second] = h.session.intervals.filter((i) => i.kind === 'show');
    expect(why(h, { type: 'lengthen-show', interval: first?.id ?? '', byMs: 10_000 })).toBe('too-late');
    take(h, offers(h.session, h.at).lengthenShow);
    expect(h.session.intervals.find((i) => i.id === second?.id)?.lengthMs).toBe(30_000);
  });

  it('S27 the last movement once more: after it while it is worked at, at once in the set-up of the next, which begins again', () => {
    const h = into(class_(sided()), 20_000 + 2_000);
    expect(now(h)).toBe('work 0.1.0.left 13');
    expect(press(h, 'repeat')).toBe(true);
    expect(h.session.intervals.slice(3, 7).map((i) => i.kind)).toEqual(['set-up', 'work', 'other-side', 'work']);
    const early = class_(main({ setUp: 3 }));
    expect(why(early, { type: 'repeat', occurrence: occurrence(early) })).toBe('nothing-done');
    const next = into(class_(main()), 52_000 + 4_000);
    expect(now(next)).toBe('set-up 0.1.1.set-up 4');
    expect(press(next, 'repeat')).toBe(true);
    next.wait(3_000 + 40_000);
    expect(now(next)).toBe('set-up 0.1.1.set-up 8');
  });

  it('S28 on to the cool-down, past its rest and with the time to get ready; refused in it and where there is none', () => {
    const h = into(three(), 5_000);
    expect(press(h, 'to-cool-down')).toBe(true);
    expect(view(h.session, h.at).interval?.section).toBe(1);
    expect(offers(h.session, h.at).toCoolDown).toBeNull();
    expect(offers(class_(main()).session, h.startedAt).toCoolDown).toBeNull();
  });

  it('S29 a change is taken back until something of it has begun, or it was changed again', () => {
    const h = into(three(), 1_000);
    const before = h.session.intervals;
    take(h, round(h)?.drop);
    h.wait(30_000);
    expect(take(h, offers(h.session, h.at).undo?.command)).toBe(true);
    expect(h.session.intervals).toEqual(before);
    expect(h.session.sums.dropped).toBe(0);
    expect(offers(h.session, h.at).undo).toBeNull();
    take(h, round(h)?.drop);
    const undo = offers(h.session, h.at).undo?.command;
    h.wait(200_000);
    expect(undo && why(h, undo)).toBe('nothing-to-undo');
    const again = into(three(), 1_000);
    take(again, offers(again.session, again.at).rest);
    const first = offers(again.session, again.at).undo?.command;
    take(again, round(again)?.drop);
    expect(first && why(again, first)).toBe('nothing-to-undo');
  });
});
