/** Holds what is kept of a room's people: who is here today, the door check, handing over. */
import { describe, expect, it } from 'vitest';
import { goIsDue, openPeople } from '../../server/people/people.ts';
import { HAND_OVER_MS, HERE_KEPT_MS, NO_PHONE_MS, PICTURE_SHOWN_MS } from '../../shared/limits.ts';
import { nobodyYet } from '../../shared/session/here.ts';
import { AMONG } from '../../shared/view/door-pictures.ts';
import { class_, main, occurrence, press } from '../session/hands.ts';
import { chanceOf } from '../simulation/chance.ts';

const people = () => openPeople(chanceOf(1, 'people'));
const told = (p: ReturnType<typeof people>, h: ReturnType<typeof class_>) => {
  p.tell({ do: 'here', what: 'knee', n: 2 }, 'phone', h.at);
  p.tell({ do: 'heads', n: 14 }, 'phone', h.at);
  p.tell({ do: 'late' }, 'phone', h.at);
};

describe('here today', () => {
  it('R100 counts, heads and late arrivals are kept for this class and gone with its end; what is said afterwards is for the next', () => {
    const [p, h] = [people(), class_(main())];
    told(p, h);
    p.follow(h.session, h.at);
    expect(p.here()).toEqual({ counts: { knee: 2 }, heads: 15, late: [h.at] });
    h.wait(10_000);
    h.say({ type: 'end' });
    p.follow(h.session, h.at);
    expect(p.here()).toEqual(nobodyYet);
    told(p, h);
    h.say({ type: 'head-count', n: 15 });
    p.follow(h.session, h.at);
    expect(p.here().counts).toEqual({ knee: 2 });
  });

  it('R100 it is gone with a class that runs out or is forgotten by itself, and where no class comes of it', () => {
    const [p, h] = [people(), class_(main())];
    told(p, h);
    h.wait(HERE_KEPT_MS * 2);
    p.follow(h.session, h.at);
    expect(p.here()).toEqual(nobodyYet);
    told(p, h);
    expect(p.nextAt(null, h.at)).toBe(h.at + HERE_KEPT_MS);
    h.wait(HERE_KEPT_MS - 1);
    p.follow(null, h.at);
    expect(p.here()).not.toEqual(nobodyYet);
    h.wait(1);
    p.follow(null, h.at);
    expect(p.here()).toEqual(nobodyYet);
  });
});

describe('the door check', () => {
  it('R101 the screen shows one of four pictures, another each time, and puts it away by itself', () => {
    const [p, h] = [people(), class_(main())];
    const seen = new Set<string>();
    for (let k = 0; k < 60; k += 1) {
      const answer = p.tell({ do: 'picture' }, 'phone', h.at);
      if ('sentence' in answer || !answer.picture || !answer.among) throw new Error('no picture');
      expect(new Set(answer.among).size).toBe(AMONG);
      expect(answer.among).toContain(answer.picture);
      expect(p.picture(h.at)).toBe(answer.picture);
      seen.add(answer.picture);
    }
    expect(seen.size).toBe(8);
    h.wait(PICTURE_SHOWN_MS);
    expect(p.picture(h.at)).toBeNull();
    p.tell({ do: 'picture' }, 'phone', h.at);
    p.tell({ do: 'picture-done' }, 'phone', h.at);
    expect(p.picture(h.at)).toBeNull();
  });
});

describe('handing over', () => {
  const shown = () => class_(main({ show: 'each' }));

  it('R102 no phone for 30 s and a go that is due: the screen asks for one; not while somebody works, not with a phone', () => {
    const [p, h] = [people(), shown()];
    p.phones(0, h.at);
    h.wait(NO_PHONE_MS - 1);
    expect([p.asksForPhone(h.session, h.at), p.nextAt(h.session, h.at)]).toEqual([false, h.at + 1]);
    h.wait(1);
    expect(p.asksForPhone(h.session, h.at)).toBe(true);
    expect(p.asksForPhone(null, h.at)).toBe(false);
    h.say({ type: 'go', occurrence: occurrence(h) });
    h.wait(5_000);
    expect(p.asksForPhone(h.session, h.at)).toBe(false);
    press(h, 'pause', 1);
    expect(p.asksForPhone(h.session, h.at)).toBe(true);
    p.phones(1, h.at);
    expect(p.asksForPhone(h.session, h.at)).toBe(false);
    p.phones(0, h.at);
    expect(p.asksForPhone(h.session, h.at)).toBe(false);
  });

  it('R102 work that ends on go is due once its estimate has run out', () => {
    const h = class_(main({ ends: 'go' }));
    h.wait(3_000 + 39_999);
    expect(goIsDue(h.session, h.at)).toBe(false);
    h.wait(1);
    expect(goIsDue(h.session, h.at)).toBe(true);
  });

  it('R103 a phone that offers itself has the code shown as soon as nobody works; who takes over leads, until the class ends', () => {
    const [p, h] = [people(), class_(main())];
    p.phones(1, h.at);
    p.started('first', h.session?.id ?? '');
    h.wait(10_000);
    p.handOver(h.at);
    expect(p.asksForPhone(h.session, h.at)).toBe(false);
    press(h, 'pause', 1);
    expect(p.asksForPhone(h.session, h.at)).toBe(true);
    p.takenOver('second');
    expect([p.lead(), p.asksForPhone(h.session, h.at)]).toEqual(['second', false]);
    p.tell({ do: 'lead' }, 'first', h.at);
    expect(p.lead()).toBe('first');
    p.handOver(h.at);
    h.wait(HAND_OVER_MS);
    expect(p.asksForPhone(h.session, h.at)).toBe(false);
    h.say({ type: 'end' });
    p.follow(h.session, h.at);
    expect(p.lead()).toBeNull();
  });
});
