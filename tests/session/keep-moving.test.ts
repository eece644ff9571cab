/** Holds keeping moving, and the easy movement after long standing, by example. */
import { describe, expect, it } from 'vitest';
import { EASY_AFTER_MS, EASY_MS } from '../../shared/limits.ts';
import { ledger } from '../../shared/session/ledger.ts';
import { placeAt, remainingMs } from '../../shared/session/place.ts';
import { after } from '../../shared/time/units.ts';
import { controls } from '../../shared/view/controls.ts';
import { signalsBetween } from '../../shared/view/signals.ts';
import { view } from '../../shared/view/view.ts';
import { words } from '../../shared/view/words.ts';
import type { Hands } from '../random/class.ts';
import { class_, into, main, occurrence, press, why } from './hands.ts';

const stop = { type: 'stop' } as const;
const back = { type: 'to-paused' } as const;
const move = { type: 'keep-moving' } as const;
const look = (h: Hands) => view(h.session, h.at);
const leftMs = (h: Hands) => remainingMs(h.session, placeAt(h.session, h.at));
const carryOn = (h: Hands) => h.say({ type: 'carry-on', pause: h.session.pauses });
const all = { halfway: true };

describe('keep moving', () => {
  it('S100 keep moving is open-ended: the clock stands, no digits and no tide, and carrying on counts in', () => {
    const h = into(class_(main()), 10_000);
    const remained = leftMs(h);
    expect(h.say(move)).toBe(true);
    h.wait(3_600_000);
    expect(look(h)).toMatchObject({ seconds: null, tide: { left: 'none', right: 'none' }, closing: false, moving: { aimAt: null }, stopped: null, nextEdgeAt: null });
    expect(leftMs(h)).toBe(remained);
    expect(ledger(h.session, h.at).accounts).toMatchObject({ keepMoving: 3_600_000, paused: 0 });
    expect(why(h, { type: 'go', occurrence: occurrence(h) })).toBe('paused');
    carryOn(h);
    expect(placeAt(h.session, h.at).countInMs).toBe(3_000);
  });

  it('S100 it is taken while paused, pausing ends it, twice it changes nothing, and it may be ended or stopped', () => {
    const h = into(class_(main()), 10_000);
    press(h, 'pause', 1);
    h.wait(1_000);
    h.say(move);
    const events = h.events.length;
    expect([h.say(move), h.events.length]).toEqual([true, events]);
    expect(controls(h.session, h.at)).toMatchObject({ big: { type: 'carry-on' }, keepMoving: null, stop });
    press(h, 'pause', 1);
    expect(look(h)).toMatchObject({ moving: null, paused: { what: 'pause', number: 3 } });
    h.say(move);
    expect([why(h, { type: 'end' }), why(h, stop)]).toEqual(['taken', 'taken']);
  });

  it('V100 the screen says to keep moving and nothing of why, and its caption says the same', () => {
    const h = into(class_(main()), 10_000);
    h.say(move);
    expect(words(h.session, look(h))).toMatchObject({ title: 'Keep moving', corner: 'March easily', line: '', next: '', nextLabel: '', option: '' });
    expect(signalsBetween(h.session, h.at, after(h.at, 1), all)).toMatchObject([{ kind: 'paused', caption: 'Keep moving' }]);
  });
});

describe('after long standing', () => {
  it('S106 after more than five minutes of standing two easy minutes come first: offered, aimed at, ended by nobody but the instructor', () => {
    const h = into(class_(main()), 10_000);
    press(h, 'pause', 1);
    h.wait(EASY_AFTER_MS);
    expect(controls(h.session, h.at).easyFirst).toBeNull();
    expect(look(h).nextEdgeAt).toBe(h.at + 1);
    h.wait(1);
    expect(controls(h.session, h.at)).toMatchObject({ easyFirst: move, big: { type: 'carry-on' } });
    h.say(move);
    expect(look(h).moving).toEqual({ since: h.at, aimAt: after(h.at, EASY_MS) });
    expect(look(h).nextEdgeAt).toBe(after(h.at, EASY_MS));
    h.wait(EASY_MS + 60_000);
    expect(look(h).moving).not.toBeNull();
    expect(controls(h.session, h.at).easyFirst).toBeNull();
  });

  it('S106 a stop counts as standing, and so does the pause before it; keeping moving does not', () => {
    const h = into(class_(main()), 10_000);
    press(h, 'pause', 1);
    h.wait(EASY_AFTER_MS / 2);
    h.say(stop);
    h.wait(EASY_AFTER_MS / 2);
    h.say(back);
    h.wait(1);
    expect(controls(h.session, h.at).easyFirst).toEqual(move);
    h.say(move);
    h.wait(600_000);
    press(h, 'pause', 1);
    h.wait(1_000);
    expect(controls(h.session, h.at).easyFirst).toBeNull();
  });
});
