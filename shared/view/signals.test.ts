/** Holds the signals of a class by example. Random classes are in tests/sound. */
import { describe, expect, it } from 'vitest';
import type { FactsOf } from '../plan/facts.ts';
import { type PlanInput, planSchema } from '../plan/plan.ts';
import type { RunningCommand } from '../session/command.ts';
import { decide } from '../session/decide.ts';
import { evolve } from '../session/evolve.ts';
import { occurrenceOf, placeAt } from '../session/place.ts';
import type { Session } from '../session/session.ts';
import { after, type ServerAt, serverAt } from '../time/units.ts';
import { captionOf, type Signal, type SignalKind } from './signal-kinds.ts';
import { captionNow, due, follow, newPlayer, type Player, upcoming } from './signal-player.ts';
import { captionAt, signalOfCommand, signalsBetween } from './signals.ts';

const facts: FactsOf = {
  squat: { name: 'Squat', start: 'standing', end: 'standing', sides: 'together' },
  lunge: { name: 'Lunge', start: 'standing', end: 'standing', sides: 'each', phrases: { left: 'left leg back', right: 'right leg back' } },
};
const START = serverAt(1_750_000_000_000);
const off = { halfway: false };
type SectionInput = PlanInput['sections'][number];
const main = (s: Partial<SectionInput> = {}): SectionInput => ({
  id: 'm', kind: 'main', show: 'none', work: 30, rest: 10, rounds: 1, items: [{ movement: 'squat' }], ...s,
});
const at = (s: number): ServerAt => after(START, Math.round(s * 1_000));

function start(...sections: SectionInput[]): Session {
  const plan = planSchema.parse({ format: 1, id: 'p', name: 'P', sections });
  const decided = decide(null, { type: 'start', session: 's', room: 'r', plan, facts, settings: { countInMs: 3_000 }, freeAt: null }, START);
  if ('refused' in decided) throw new Error(decided.refused.sentence);
  return decided.events.reduce<Session | null>(evolve, null) as Session;
}

function say(s: Session, second: number, command: { type: RunningCommand['type'] } & Record<string, unknown>): Session {
  const occurrence = occurrenceOf(s, placeAt(s, at(second)).index);
  const needs = !['pause', 'carry-on', 'end', 'note'].includes(command.type);
  const decided = decide(s, { ...(needs ? { occurrence } : {}), ...command } as RunningCommand, at(second));
  if ('refused' in decided) throw new Error(decided.refused.sentence);
  return decided.events.reduce<Session>((session, event) => evolve(session, event), s);
}

const seconds = (signals: readonly Signal[]): [SignalKind, number][] => signals.map((x) => [x.kind, (x.at - START) / 1_000]);
const heard = (s: Session, from: number, to: number, options = off) => seconds(signalsBetween(s, at(from), at(to), options));

describe('signals', () => {
  it('C1 C2 C3 C4 a class of one movement: counted in, ten left, the last three, and its end', () => {
    expect(heard(start(main({ lastRest: false })), 0, 100)).toEqual([
      ['three', 0], ['two', 1], ['one', 2], ['go', 3], ['ten-left', 23], ['last-three', 30], ['last-two', 31], ['last-one', 32], ['class-end', 33],
    ]);
  });

  it('C3 C4 halved work changes sides, says ten seconds only on the last side, and ends its section', () => {
    const s = start(main(), { id: 'c', kind: 'clear-up', talk: 60 });
    expect(heard(s, 3, 60).filter(([kind]) => kind !== 'go')).toEqual(heard(s, 4, 60));
    const halved = start(main({ items: [{ movement: 'lunge' }] }), { id: 'c', kind: 'clear-up', talk: 60 });
    const kinds = heard(halved, 3, 60).map(([kind]) => kind);
    expect(kinds).toEqual(['go', 'last-three', 'last-two', 'last-one', 'side-change', 'three', 'two', 'one', 'go', 'ten-left', 'last-three', 'last-two', 'last-one', 'section-end']);
    const full = start(main({ items: [{ movement: 'lunge' }], sides: 'full' }));
    expect(heard(full, 3, 90).filter(([kind]) => kind === 'ten-left')).toHaveLength(2);
    expect(heard(start(main({ work: 19, lastRest: false })), 0, 60).map(([kind]) => kind)).not.toContain('ten-left');
  });

  it('C5 halfway is off by default, and is the change of sides where the sides share', () => {
    const s = start(main());
    expect(heard(s, 0, 60, { halfway: true })).toContainEqual(['halfway', 18]);
    expect(heard(s, 0, 60).map(([kind]) => kind)).not.toContain('halfway');
    expect(heard(start(main({ items: [{ movement: 'lunge' }] })), 0, 60, { halfway: true }).map(([kind]) => kind)).not.toContain('halfway');
  });

  it('C3 C8 work followed at once by work gives go; halfway gives way to ten seconds left, three to an end', () => {
    const none = start(main({ way: 'stations', show: 'none', rest: 0, setUp: 0, rounds: 2, work: 20, items: [{ movement: 'squat' }, { movement: 'lunge' }], lastRest: false }));
    expect(none.intervals.slice(0, 2).map((i) => i.kind)).toEqual(['work', 'work']);
    expect(heard(none, 22.5, 24)).toEqual([['go', 23]]);
    expect(heard(start(main({ work: 20 })), 0, 60, { halfway: true }).filter(([, t]) => t === 13)).toEqual([['ten-left', 13]]);
    const three = start(main({ rest: 3, setUp: 0, rounds: 2, lastRest: false }));
    expect(heard(three, 32.5, 37)).toEqual([['end', 33], ['two', 34], ['one', 35], ['go', 36]]);
  });

  it('C6 the end is signalled when the class runs out or is ended, and not when it was forgotten', () => {
    const ended = say(start(main()), 9, { type: 'end' });
    expect(heard(ended, 0, 90)).toEqual([['class-end', 9]]);
    const forgotten = say(start(main()), 9, { type: 'pause' });
    expect(heard(forgotten, 10, 20_000)).toEqual([]);
  });

  it('C7 a pause and carrying on are signalled, and what fell in the pause comes as much later', () => {
    const paused = say(start(main()), 22, { type: 'pause' });
    expect(heard(paused, 0, 100)).toEqual([['paused', 22]]);
    const on = say(paused, 60, { type: 'carry-on', pause: 1 });
    expect(signalOfCommand(paused, on)).toMatchObject({ kind: 'resumed', at: at(60), caption: 'Carry on' });
    expect(heard(on, 60, 80).slice(0, 5)).toEqual([['three', 60], ['two', 61], ['one', 62], ['go', 63], ['ten-left', 64]]);
    const player = follow(follow(newPlayer, paused, 2, off, at(22)), on, 3, off, at(60));
    expect(seconds(upcoming(player, at(60), at(62), off))).toEqual([['resumed', 60.12], ['two', 61]]);
  });

  it('C10 work that go, move on or change sides cuts off ends with its signal', () => {
    const reps = start(main({ ends: 'go', rounds: 2 }));
    const went = say(reps, 20, { type: 'go' });
    expect(signalOfCommand(reps, went)).toMatchObject({ kind: 'end', at: at(20), caption: 'Done' });
    const lunge = start(main({ items: [{ movement: 'lunge' }, { movement: 'squat' }] }));
    expect(signalOfCommand(lunge, say(lunge, 9, { type: 'change-sides' }))).toMatchObject({ kind: 'side-change', caption: 'Other side: left leg back' });
    expect(signalOfCommand(lunge, say(lunge, 9, { type: 'move-on' }))).toMatchObject({ kind: 'end' });
    expect(signalOfCommand(lunge, say(lunge, 9, { type: 'again' }))).toBeNull();
    expect(signalOfCommand(lunge, say(lunge, 9, { type: 'extend', byMs: 10_000 }))).toBeNull();
  });

  it('C9 a late frame gives a signal once; an old one is let go; a gap makes nothing up', () => {
    const s = start(main());
    let player: Player = follow(newPlayer, s, 1, off, at(0.1));
    const give = (second: number) => {
      const step = due(player, off, at(second));
      player = step.player;
      return seconds(step.signals);
    };
    expect(give(0.13)).toEqual([['three', 0.12]]);
    expect(give(0.14)).toEqual([]);
    expect(give(1.249)).toEqual([['two', 1]]);
    expect(give(2.3)).toEqual([]);
    expect(give(3)).toEqual([['go', 3]]);
    player = follow(player, say(say(s, 12, { type: 'pause' }), 20, { type: 'carry-on', pause: 1 }), 3, off, at(20.1));
    expect(give(20.13)).toEqual([['three', 20.12]]);
    player = follow(player, null, 0, off, at(21));
    expect(give(22)).toEqual([]);
  });

  it('C9 a signal that was due just before a command is still given after it', () => {
    const s = start(main());
    const player = follow(newPlayer, s, 1, off, at(2.9));
    const noted = follow(player, say(s, 3.02, { type: 'note', text: 'n' }), 2, off, at(3.05));
    expect(seconds(due(noted, off, at(3.06)).signals)).toEqual([['go', 3]]);
  });

  it('C11 C146 a caption is held, and a count does not push words away', () => {
    const s = start(main({ rest: 3, setUp: 0, rounds: 2 }));
    expect(captionAt(s, at(23.2), off)?.caption).toBe('10 seconds left');
    expect(captionAt(s, at(25.5), off)).toBeNull();
    expect(captionAt(s, at(35.4), off)?.caption).toBe('Done');
    expect(captionAt(s, at(35.6), off)?.caption).toBe('1');
    expect(captionAt(s, at(31.9), off)?.caption).toBe('Last 3 seconds');
    const late = due(follow(newPlayer, s, 1, off, at(20)), off, at(23.6));
    expect([late.signals, captionNow(late.player, at(23.6))?.kind]).toEqual([[], 'ten-left']);
    const missed = follow(newPlayer, s, 1, off, at(24));
    expect(captionNow(missed, at(24))?.kind).toBe('ten-left');
    expect(captionOf([], at(0))).toBeNull();
  });
});
