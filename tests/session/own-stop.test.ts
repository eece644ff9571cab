/** Holds a stop that a device made by itself: laid over what the server said, and told to it when it can be. */
import { describe, expect, it } from 'vitest';
import { answerHere, ownStop, owes, stampHere, stopIn, withOwn } from '../../shared/link/own-stop.ts';
import type { Room } from '../../shared/link/types.ts';
import type { Session } from '../../shared/session/session.ts';
import { after } from '../../shared/time/units.ts';
import { view } from '../../shared/view/view.ts';
import { noPeople } from '../../shared/wire/messages/people.ts';
import { class_, into, main, press } from './hands.ts';

const roomWith = (session: Session | null): Room => ({
  link: { state: 'lost', since: 0, reason: 'cut' }, session, seq: 1, now: () => null, errorMs: () => null, choose: () => undefined,
  tell: async () => ({ done: true }), sound: async () => ({ screens: 0 }), onPlay: () => () => undefined, onSession: () => () => undefined, send: async () => ({ done: true }),
  about: {
    room: { id: 'r', name: 'R', pattern: 0 }, studio: { name: 'S', timeZone: 'UTC' }, version: '', pairing: null, chosen: null,
    present: { screens: 1, phones: 1 }, people: noPeople, you: null,
  },
} as unknown as Room);

describe('a stop of one\'s own', () => {
  it('W100 without the network a class stops here at once, for help after 4 s, and stands until the server has heard', () => {
    const h = into(class_(main()), 10_000);
    const room = roomWith(h.session);
    const own = ownStop(h.at);
    const here = withOwn(room, own);
    expect(stopIn(room, h.at)).toBeNull();
    expect(stopIn(here, h.at)).toMatchObject({ since: h.at, answer: null });
    expect(stopIn(here, after(h.at, 4_000))?.answer).toBe('help');
    expect(here.session && view(here.session, after(h.at, 60_000))).toMatchObject({ seconds: null, stopped: { answer: 'help' } });
    expect(owes(room, own, h.at)).toEqual({ type: 'stop' });
    const out = stampHere(answerHere(own, 'out'), 'help-called', after(h.at, 9_000));
    expect(stopIn(withOwn(room, out), after(h.at, 9_000))).toMatchObject({ answer: 'out', helpCalledAt: h.at + 9_000 });
  });

  it('W101 what happened here is told in turn once the network is back: stop, answer, stamps; then nothing is owed', () => {
    const h = into(class_(main()), 10_000);
    const own = stampHere(answerHere(ownStop(h.at), 'out'), 'help-called', h.at);
    const told: string[] = [];
    for (let k = 0; k < 5; k += 1) {
      const command = owes(roomWith(h.session), own, h.at);
      if (!command) break;
      told.push(command.type);
      h.say(command as Parameters<typeof h.say>[0]);
    }
    expect(told).toEqual(['stop', 'answer-stop', 'stamp-stop']);
    expect(h.session.pause?.stop).toMatchObject({ answer: 'out', helpCalledAt: h.at });
  });

  it('W100 led back without the network it is held paused, and the server is told to pause, or to lead its own stop back', () => {
    const h = into(class_(main()), 10_000);
    const back = { ...ownStop(h.at), back: true };
    const here = withOwn(roomWith(h.session), back);
    expect([stopIn(here, h.at), here.session?.pause?.what]).toEqual([null, 'pause']);
    expect(owes(roomWith(h.session), back, h.at)).toEqual({ type: 'pause', reason: null });
    h.say({ type: 'stop' });
    expect(withOwn(roomWith(h.session), back).session?.pause?.what).toBe('pause');
    expect(owes(roomWith(h.session), back, h.at)).toEqual({ type: 'to-paused' });
    h.say({ type: 'to-paused' });
    expect(owes(roomWith(h.session), back, h.at)).toBeNull();
  });

  it('W100 with no class, or one that is over, it stands beside it; a pause that was there goes on', () => {
    const h = into(class_(main()), 10_000);
    const room = roomWith(null);
    const own = ownStop(h.at);
    expect(stopIn(withOwn(room, own), h.at)).toMatchObject({ since: h.at });
    expect(owes(room, { ...own, back: true }, h.at)).toBeNull();
    press(h, 'pause', 1);
    const held = withOwn(roomWith(h.session), { ...own, back: true });
    expect(held.session?.pause?.number).toBe(h.session.pause?.number);
    h.say({ type: 'end' });
    expect(stopIn(withOwn(roomWith(h.session), ownStop(h.at)), h.at)).not.toBeNull();
  });
});
