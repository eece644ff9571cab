/** Holds the stop by example; random classes hold it too (tests/property, tests/simulation). Keeping moving has its own page. */
import { describe, expect, it } from 'vitest';
import { FORGOTTEN_MS, STOP_UNTOUCHED_MS } from '../../shared/limits.ts';
import type { Command, Event } from '../../shared/session/command.ts';
import { evolve, replay } from '../../shared/session/evolve.ts';
import { showTimes } from '../../shared/session/learned.ts';
import { ledger } from '../../shared/session/ledger.ts';
import { placeAt, remainingMs } from '../../shared/session/place.ts';
import { withoutStops } from '../../shared/session/without-stops.ts';
import { after, type ServerAt } from '../../shared/time/units.ts';
import { controls } from '../../shared/view/controls.ts';
import { changeWords, isChange, stampsIn, standsFor } from '../../shared/view/report-words.ts';
import { report } from '../../shared/view/report.ts';
import { due, follow, newPlayer } from '../../shared/view/signal-player.ts';
import { signalsBetween } from '../../shared/view/signals.ts';
import { view } from '../../shared/view/view.ts';
import { words } from '../../shared/view/words.ts';
import type { Hands } from '../random/class.ts';
import { class_, into, main, now, occurrence, press, why } from './hands.ts';

const stop = { type: 'stop' } as const;
const back = { type: 'to-paused' } as const;
const move = { type: 'keep-moving' } as const;
const look = (h: Hands) => view(h.session, h.at);
const leftMs = (h: Hands) => remainingMs(h.session, placeAt(h.session, h.at));
const carryOn = (h: Hands) => h.say({ type: 'carry-on', pause: h.session.pauses });
const all = { halfway: true };
const welcome = { id: 'w', kind: 'welcome', talk: 60 } as const;
const shown = main({ show: 'each' });

/** A class in every state there is. */
const states: readonly [string, () => Hands][] = [
  ['a welcome that waits', () => class_(welcome, main())],
  ['the count-in of the start', () => { const h = class_(main()); h.wait(1_000); return h; }],
  ['work', () => into(class_(main()), 10_000)],
  ['the last three seconds', () => into(class_(main()), 38_500)],
  ['rest', () => into(class_(main()), 42_000)],
  ['set-up', () => into(class_(main()), 53_500)],
  ['a count-in', () => into(class_(main()), 58_500)],
  ['a show', () => class_(shown)],
  ['work on go', () => into(class_(main({ ends: 'go' })), 10_000)],
  ['a pause', () => { const h = into(class_(main()), 10_000); press(h, 'pause', 1); return h; }],
  ['keeping moving', () => { const h = into(class_(main()), 10_000); h.say(move); return h; }],
  ['the count-in of carrying on', () => { const h = into(class_(main()), 10_000); press(h, 'pause', 1); carryOn(h); h.wait(1_000); return h; }],
];

describe('stop', () => {
  it.each(states)('S101 C100 in %s: one tap, and nothing counts, sounds or starts, however long; the way back is to a pause', (_state, make) => {
    const h = make();
    const remained = leftMs(h);
    let player = follow(newPlayer, h.session, h.events.length, all, h.at);
    expect(controls(h.session, h.at).stop).toEqual(stop);
    expect(h.say(stop)).toBe(true);
    player = follow(player, h.session, h.events.length, all, h.at);
    expect(due(player, all, h.at).signals).toEqual([]);
    for (const ms of [0, 1, 3_999, 1, 60_000, 600_000]) {
      h.wait(ms);
      const v = look(h);
      expect(v).toMatchObject({ seconds: null, tide: { left: 'none', right: 'none' }, closing: false });
      expect(v.stopped).not.toBeNull();
      expect(placeAt(h.session, h.at).countInMs).toBe(0);
      expect(leftMs(h)).toBe(remained);
      expect(signalsBetween(h.session, after(h.at, -1_000), after(h.at, 10_000), all)).toEqual([]);
      expect(controls(h.session, h.at)).toMatchObject({ big: null, ready: null, wait: null, again: null, more: null, moveOn: null, keepMoving: null, easyFirst: null, stop: null, toPaused: back });
    }
    h.say(back);
    expect(look(h)).toMatchObject({ stopped: null, moving: null, paused: { what: 'pause' } });
    expect(signalsBetween(h.session, after(h.at, -1_000), after(h.at, 10_000), all)).toEqual([]);
    expect(placeAt(h.session, after(h.at, 60_000)).countInMs).toBe(0);
    expect(leftMs(h)).toBe(remained);
  });

  it('S102 while stopped nothing is taken that could set anything going, end it or change it; notes and head counts are', () => {
    const h = into(class_(main(), { id: 'c', kind: 'cool-down', work: 20, items: [{ movement: 'squat' }] }), 10_000);
    press(h, 'insert-break', 1);
    h.say(stop);
    const o = occurrence(h);
    const refused: Command[] = [
      { type: 'go', occurrence: o }, { type: 'carry-on', pause: h.session.pauses }, { type: 'pause', reason: null }, move, { type: 'end' },
      { type: 'again', occurrence: o }, { type: 'move-on', occurrence: o }, { type: 'extend', occurrence: o, byMs: 10_000 }, { type: 'repeat', occurrence: o },
      { type: 'undo', change: h.session.changes }, { type: 'to-cool-down', occurrence: o }, { type: 'wait', occurrence: o },
    ];
    for (const command of refused) expect([command.type, why(h, command)]).toEqual([command.type, 'stopped']);
    expect([why(h, { type: 'note', text: 'n' }), why(h, { type: 'head-count', n: 3 })]).toEqual(['taken', 'taken']);
    h.say(back);
    expect(why(h, { type: 'undo', change: h.session.changes })).toBe('taken');
    press(h, 'undo', 1);
    expect(look(h).paused?.what).toBe('pause');
  });

  it('S103 untouched for 4 s it is for somebody who needs help; before and after, either can be said', () => {
    const h = into(class_(main()), 10_000);
    h.say(stop);
    h.wait(STOP_UNTOUCHED_MS - 1);
    expect(look(h)).toMatchObject({ stopped: { answer: null }, nextEdgeAt: h.at + 1 });
    h.wait(1);
    expect(look(h)).toMatchObject({ stopped: { answer: 'help' }, nextEdgeAt: null });
    h.say({ type: 'answer-stop', what: 'out' });
    expect(look(h).stopped?.answer).toBe('out');
    h.say({ type: 'answer-stop', what: 'help' });
    expect(look(h).stopped?.answer).toBe('help');
    const events = h.events.length;
    expect([h.say(stop), h.say({ type: 'answer-stop', what: 'help' }), h.events.length]).toEqual([true, true, events]);
  });

  it('S104 help called and help here are stamped once each, only in a stop, and the first counts', () => {
    const h = into(class_(main()), 10_000);
    const called = { type: 'stamp-stop', what: 'help-called' } as const;
    expect([why(h, called), why(h, back), why(h, { type: 'answer-stop', what: 'help' })]).toEqual(['not-stopped', 'not-stopped', 'not-stopped']);
    h.say(stop);
    h.wait(20_000);
    h.say(called);
    const calledAt = h.at;
    h.wait(240_000);
    h.say(called);
    h.say({ type: 'stamp-stop', what: 'help-here' });
    expect(look(h).stopped).toMatchObject({ helpCalledAt: calledAt, helpHereAt: h.at });
  });

  it('S105 the log holds time, movement, length, head count and stamps: replayed it is the same, and no event has a place for words', () => {
    const h = into(class_(main()), 10_000);
    for (const command of [stop, { type: 'answer-stop', what: 'out' }, { type: 'stamp-stop', what: 'help-called' }, { type: 'head-count', n: 9 }, back] as const) {
      h.wait(1_000);
      h.say(command);
    }
    expect(h.replayed()).toEqual(h.session);
    const mine = h.events.filter((e) => e.type.startsWith('stop') || e.type === 'came-back');
    expect(mine.map((e) => Object.keys(e).sort())).toEqual([['at', 'type'], ['at', 'type', 'what'], ['at', 'type', 'what'], ['at', 'type']]);
  });

  it('S107 a stop that goes on for two hours is a forgotten class, and nobody is told "well done" after a stop that was no slip', () => {
    const h = into(class_(main()), 10_000);
    h.say(stop);
    h.wait(FORGOTTEN_MS);
    expect(look(h)).toMatchObject({ over: { how: 'forgotten' }, stopped: null });
    expect(words(h.session, look(h)).title).toBe('The class is over');
    for (const [ms, title, signals] of [[5_000, 'The class is over', 0], [3_000, 'Well done', 1]] as const) {
      const g = into(class_(main()), 10_000);
      g.say(stop);
      g.wait(ms);
      g.say(back);
      g.say({ type: 'end' });
      expect([words(g.session, look(g)).title, signalsBetween(g.session, g.at, after(g.at, 1), all).length]).toEqual([title, signals]);
    }
  });

  it('V101 the screen says "Please stop", without digits, limb, option or what is next', () => {
    const h = into(class_(main()), 10_000);
    h.say(stop);
    expect(words(h.session, look(h))).toMatchObject({ title: 'Please stop', corner: '', line: '', next: '', nextLabel: '', option: '' });
  });

  it('L100 stopped and kept moving have accounts of their own, and all accounts add up', () => {
    const h = into(class_(main()), 10_000);
    for (const command of [move, stop, back] as const) {
      h.say(command);
      h.wait(7_000);
    }
    carryOn(h);
    h.wait(5_000);
    const { accounts } = ledger(h.session, h.at);
    expect(accounts).toMatchObject({ keepMoving: 7_000, stopped: 7_000, paused: 7_000, countIn: 6_000 });
    expect(Object.values(accounts).reduce((a, b) => a + b, 0)).toBe(h.at - h.startedAt);
  });
});

describe('what others are told', () => {
  const eventful = (): Hands => {
    const h = into(class_(main()), 10_000);
    const say = (command: Exclude<Command, { type: 'start' }>) => { h.wait(2_500); h.say(command); };
    for (const command of [stop, { type: 'answer-stop', what: 'help' }, { type: 'stamp-stop', what: 'help-called' }, back, stop, back] as const) say(command);
    say({ type: 'carry-on', pause: h.session.pauses });
    for (const command of [move, stop, back] as const) say(command);
    say({ type: 'carry-on', pause: h.session.pauses });
    h.wait(4_000);
    return h;
  };

  it('S108 told to others a stop is a pause: the class runs as it did, and nothing of the stop is in it', () => {
    const h = eventful();
    const told = withoutStops(h.events);
    expect(JSON.stringify(told)).not.toMatch(/stop|came-back|help/);
    const other = replay(told as Event[]);
    if (!other) throw new Error('nothing left');
    for (let ms = 0; ms < 60_000; ms += 700) {
      const at = after(h.at, ms) as ServerAt;
      expect(placeAt(other, at)).toEqual(placeAt(h.session, at));
    }
    const [mine, theirs] = [ledger(h.session, h.at).accounts, ledger(other, h.at).accounts];
    expect(theirs).toEqual({ ...mine, paused: mine.paused + mine.stopped, stopped: 0 });
    expect(report(told, h.at)?.pauses.map((p) => p.what)).toEqual(['pause', 'keep-moving', 'pause']);
  });

  it('S108 the report tells of stops in plain words and counts none of it as a change of the plan', () => {
    const h = eventful();
    const r = report(h.events, h.at);
    if (!r) throw new Error('no report');
    const texts = r.changes.map((c) => changeWords(r, c));
    expect(texts).toContain('Help called');
    expect(r.pauses.map((p) => standsFor(p))).toEqual([', stopped', '', ', stopped', '', ', kept moving', ', stopped', '']);
    expect(r.pauses.map((p) => stampsIn(r, p).length)).toEqual([1, 0, 0, 0, 0, 0, 0]);
    expect(r.changes.filter((c) => isChange(c.event))).toEqual([]);
  });

  it('S109 a show in which the class was stopped teaches nothing', () => {
    const times = (stops: boolean) => {
      const h = class_(shown);
      h.wait(20_000);
      if (stops) for (const command of [stop, back] as const) h.say(command);
      if (stops) carryOn(h);
      h.wait(5_000);
      h.say({ type: 'go', occurrence: occurrence(h) });
      return showTimes(h.events).length;
    };
    expect([times(false), times(true)]).toEqual([1, 0]);
  });

  it('S101 a stop that is pressed twice by two hands is one stop, and evolve alone carries it out', () => {
    const h = into(class_(main()), 10_000);
    h.say(stop);
    const again = evolve(h.session, { type: 'stopped', at: h.at });
    expect(again.pause?.stop).not.toBeNull();
    expect(now(h)).toContain('work');
  });
});
