/** Holds by example how a class stands to its end, what a way says, and what is never cut. */
import { describe, expect, it } from 'vitest';
import { planSchema } from '../../shared/plan/plan.ts';
import type { TakeWay } from '../../shared/session/commands/take-way.ts';
import { finish, lateness } from '../../shared/session/finish.ts';
import { estimatesOf, learned, median, showTimes, shrunkenMs } from '../../shared/session/learned.ts';
import { spare } from '../../shared/session/spare.ts';
import { ways } from '../../shared/session/ways.ts';
import { after, type ServerAt } from '../../shared/time/units.ts';
import { spareWords, wayWords } from '../../shared/view/way-words.ts';
import { hold, START } from '../random/class.ts';
import { class_, into, main, press, sided, why } from '../session/hands.ts';

const plan = (...sections: Parameters<typeof class_>) => planSchema.parse({ format: 1, id: 'p', name: 'P', sections });
const coolDown = { id: 'c', kind: 'cool-down' as const, work: 60, rest: 30, items: [{ movement: 'squat' }, { movement: 'squat' }, { movement: 'squat' }] };
const clock = (at: ServerAt) => new Date(at).toISOString().slice(11, 19);

describe('the end', () => {
  it('F3 a go that will owe a count-in is expected to', () => {
    const h = class_({ id: 'w', kind: 'welcome', talk: 60 }, main({ setUp: 0, rest: 0, items: [{ movement: 'bridge' }] }));
    expect(finish(h.session, h.at).endAt).toBe(START + 60_000 + 8_000 + 40_000);
    h.wait(60_000);
    press(h, 'go');
    expect(finish(h.session, h.at).endAt).toBe(START + 60_000 + 8_000 + 40_000);
  });

  it('F10 late from more than 60 s until no more than 30 s, early from more than 120 s until no more than 90 s', () => {
    const at = (byMs: number) => { const h = hold(plan(main({ rounds: 6 })), after(finish(class_(main({ rounds: 6 })).session, START).endAt, -byMs)); h.wait(5_000); return h; };
    const standing = (h: ReturnType<typeof at>) => lateness(h.session, h.at).standing;
    expect([60_000, 60_001, -120_000, -120_001].map((ms) => standing(at(ms)))).toEqual(['on-time', 'late', 'on-time', 'early']);
    const h = at(61_000);
    press(h, 'shorten', 20);
    expect([lateness(h.session, h.at).byMs, standing(h)]).toEqual([41_000, 'late']);
    press(h, 'shorten', 12);
    expect([lateness(h.session, h.at).overrunMs, standing(h)]).toEqual([29_000, 'on-time']);
    press(h, 'extend', 20);
    expect([lateness(h.session, h.at).byMs, standing(h)]).toEqual([49_000, 'on-time']);
    const paused = at(0);
    press(paused, 'pause');
    paused.wait(58_000);
    expect([lateness(paused.session, paused.at).byMs, standing(paused)]).toEqual([61_000, 'late']);
  });

  it('F11 the plan\'s slot says when the floor must be free, unless the start does', () => {
    const slotted = planSchema.parse({ format: 1, id: 'p', name: 'P', slot: 600, sections: [main()] });
    expect(hold(slotted).session.promisedAt).toBe(START + 600_000);
    expect(hold(slotted, after(START, 500_000)).session.promisedAt).toBe(START + 500_000);
  });

  it('F12 a shrunken median of what shows took, of the instructor\'s own or everybody\'s, and a start carries it', () => {
    expect([median([1, 2, 9]), median([1, 3]), shrunkenMs([34_000, 34_000, 34_000], 20_000), shrunkenMs([], 20_000)]).toEqual([2, 2, 27_000, 20_000]);
    const shown = main({ show: 'each' });
    const h = class_(shown);
    h.wait(20_000);
    press(h, 'pause');
    h.wait(50_000);
    press(h, 'carry-on');
    h.wait(30_000);
    press(h, 'go');
    const times = showTimes(h.events);
    expect(times).toEqual([{ movement: 'squat', instructor: null, ms: 50_000 }]);
    const mine = { movement: 'squat', instructor: 'A', ms: 40_000 };
    expect(learned([...times, mine], plan(shown), 'A')).toEqual([{ movement: 'squat', plannedMs: 20_000, usuallyMs: 25_000, of: 1, from: 'own' }]);
    const other = learned([...times, mine], plan(shown), 'B');
    expect(other).toEqual([{ movement: 'squat', plannedMs: 20_000, usuallyMs: 30_000, of: 2, from: 'everybody' }]);
    const told = hold(plan(shown), null, { instructor: 'B', estimates: estimatesOf(other) });
    expect(told.session.intervals.filter((i) => i.kind === 'show').map((i) => i.lengthMs)).toEqual([30_000, 20_000]);
    expect(told.session.instructor).toBe('B');
  });
});

describe('ways', () => {
  const late = (byMs: number) => { const p = plan(sided({ rounds: 3 }), coolDown); const end = finish(hold(p).session, START).endAt; return into(hold(p, after(end, -byMs)), 1_000); };

  it('F14 a way says what it costs and when the class then ends', () => {
    const h = late(60_000);
    const said = ways(h.session, h.at).map((w) => wayWords(h.session, w, clock));
    expect(said[0]).toMatch(/^makes each work up to 5 s shorter: 35 s less work, 25 s less rest, ends \d\d:\d\d:\d\d$/);
    expect(said.some((w) => w.startsWith('drops the last round') || w.startsWith('leaves out'))).toBe(true);
    const far = late(3_000_000);
    expect(ways(far.session, far.at).map((w) => wayWords(far.session, w, clock))[0]).toMatch(/ends .*, still .* late$/);
  });

  it('F8 a cut below its least, on one side only, of what has begun, or not on the menu is refused', () => {
    const h = late(60_000);
    const cut = (changes: TakeWay['changes'], removed: string[] = []) => why(h, { type: 'take-way', kind: 'shorter', changes, removed });
    const by = (interval: string, byMs: number) => ({ interval, byMs });
    expect(cut([by('0.2.0.right', -5_000), by('0.2.0.left', -5_000)])).toBe('taken');
    expect(cut([by('0.2.0.right', -5_000)])).toBe('not-allowed-cut');
    expect(cut([by('0.2.0.right', -13_000), by('0.2.0.left', -13_000)])).toBe('not-allowed-cut');
    expect(cut([by('0.1.0.right', -5_000), by('0.1.0.left', -5_000)])).toBe('too-late');
    expect(cut([by('1.1.0.work', -5_000)])).toBe('not-allowed-cut');
    expect(cut([by('0.2.1.work', -5_000), by('0.2.1.work', -5_000)])).toBe('not-allowed-cut');
    expect(cut([by('1.1.1.rest', -18_000)])).toBe('not-allowed-cut');
    expect(cut([], ['0.3.0.right'])).toBe('not-allowed-cut');
    expect(cut([])).toBe('not-allowed-cut');
  });

  it('F13 time that is left is used by longer work, a round or a water break, and never past the end', () => {
    const h = late(-200_000);
    const offered = spare(h.session, h.at);
    expect(offered.map((o) => o.kind).sort()).toEqual(['longer', 'round', 'water']);
    for (const o of offered) expect(o.endAt).toBeLessThanOrEqual(h.session.promisedAt);
    expect(spareWords(offered.find((o) => o.kind === 'round') as never, clock)).toMatch(/^adds a round: uses .*, ends \d\d:/);
    const onTime = late(0);
    expect([ways(onTime.session, onTime.at), spare(onTime.session, onTime.at)]).toEqual([[], []]);
  });
});
