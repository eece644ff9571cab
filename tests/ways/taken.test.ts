/** Holds what a way promises: taken, the class ends then; taken back, everything is as it was. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Command } from '../../shared/session/command.ts';
import { decide } from '../../shared/session/decide.ts';
import { evolve } from '../../shared/session/evolve.ts';
import { finish, lateness } from '../../shared/session/finish.ts';
import { occurrenceOf, placeAt } from '../../shared/session/place.ts';
import type { Session } from '../../shared/session/session.ts';
import { spare } from '../../shared/session/spare.ts';
import { ways } from '../../shared/session/ways.ts';
import { after, type ServerAt } from '../../shared/time/units.ts';
import { cases } from './cases.ts';

function say(s: Session, command: Command, at: ServerAt): Session {
  const decided = decide(s, command, at);
  if ('refused' in decided) throw new Error(`${command.type}: ${decided.refused.reason}`);
  return decided.events.reduce((session, event) => evolve(session, event), s);
}

/** Holds the class to its end: carried on at once, and each go comes when it was expected. */
function holdOut(from: Session, start: ServerAt): ServerAt {
  let [s, at] = [from, start];
  if (s.pause) s = say(s, { type: 'carry-on', pause: s.pause.number }, at);
  for (let n = 0; n < 5_000; n += 1) {
    const place = placeAt(s, at);
    if (place.over) return place.over.at;
    const i = s.intervals[place.index];
    if (!i) break;
    at = after(at, place.countInMs + Math.max(0, i.lengthMs - place.elapsedMs));
    if (i.ends === 'go') s = say(s, { type: 'go', occurrence: occurrenceOf(s, place.index) }, at);
  }
  throw new Error('the class never ends');
}

/** All of a session that matters, but for how often it was changed. */
const matters = ({ changes: _n, change: _c, lastAt: _l, standing: _s, ...s }: Session) => s;

describe('a way that is taken', () => {
  it('F7 ends the class at the promised millisecond if nothing else happens, and no offer is refused', () => {
    const told = { reach: 0, short: 0, spare: 0 };
    fc.assert(fc.property(cases(3, 300), fc.boolean(), (c, early) => {
      if (!c) return;
      expect(holdOut(c.s, c.at)).toBe(finish(c.s, c.at).endAt);
      const s = early ? { ...c.s, promisedAt: after(finish(c.s, c.at).endAt, c.needMs) } : c.s;
      for (const way of [...ways(s, c.at), ...spare(s, c.at)]) {
        const taken = say(s, way.command, c.at);
        expect(finish(taken, c.at).endAt).toBe(way.endAt);
        expect(holdOut(taken, c.at)).toBe(way.endAt);
        const shortMs = 'shortMs' in way ? way.shortMs : 0;
        expect(way.endAt - s.promisedAt).toBeLessThanOrEqual(shortMs);
        if ('shortMs' in way && shortMs > 0) expect(way.endAt - s.promisedAt).toBe(shortMs);
        told['usesMs' in way ? 'spare' : shortMs > 0 ? 'short' : 'reach'] += 1;
      }
    }), { numRuns: 2_000 });
    expect(Math.min(told.reach, told.short, told.spare)).toBeGreaterThan(100);
  });

  it('S29 taken back, lengths, order and sums are exactly as before; a pause between does not matter', () => {
    let told = 0;
    fc.assert(fc.property(cases(3, 300), (c) => {
      if (!c) return;
      for (const way of ways(c.s, c.at)) {
        told += 1;
        const taken = say(c.s, way.command, c.at);
        const back = say(taken, { type: 'undo', change: taken.changes }, c.at);
        expect(matters(back)).toEqual(matters(c.s));
        expect(lateness(back, c.at).standing).toBe(lateness(c.s, c.at).standing);
        const paused = say(say(taken, { type: 'pause', reason: null }, c.at), { type: 'undo', change: taken.changes }, after(c.at, 60_000));
        expect(paused.intervals).toEqual(c.s.intervals);
      }
    }), { numRuns: 1_000 });
    expect(told).toBeGreaterThan(500);
  });

  it('F9 leaves left and right of every pair as even as they were, and the cool-down at its least', () => {
    let told = 0;
    fc.assert(fc.property(cases(3, 500), (c) => {
      if (!c) return;
      const left = (s: Session) => {
        const sums = new Map<string, number>();
        for (const i of s.intervals) if (i.kind === 'work' && i.pair && i.side) sums.set(i.pair, (sums.get(i.pair) ?? 0) + (i.side === 'left' ? i.lengthMs : -i.lengthMs));
        return sums;
      };
      const coolDownMs = (s: Session) => s.intervals.filter((i) => s.plan.sections[i.section]?.kind === 'cool-down').reduce((sum, i) => sum + i.lengthMs, 0);
      for (const way of ways(c.s, c.at)) {
        told += 1;
        const taken = say(c.s, way.command, c.at);
        const before = left(c.s);
        for (const [pair, ms] of left(taken)) expect(ms).toBe(before.get(pair));
        expect(coolDownMs(taken)).toBeGreaterThanOrEqual(Math.min(coolDownMs(c.s), 180_000));
      }
    }), { numRuns: 800 });
    expect(told).toBeGreaterThan(400);
  });
});
