/**
 * Owns a class that is held for nobody: a room made of the domain alone, with no
 * server and no log that is kept. Go is said by itself when what waits for it has
 * taken as long as it is expected to. Leaves alone how fast its clock runs.
 */
import type { FactsOf } from '../../../shared/plan/facts.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import type { Room, Sent } from '../../../shared/link/types.ts';
import type { Command, Event } from '../../../shared/session/command.ts';
import { decide } from '../../../shared/session/decide.ts';
import { evolve } from '../../../shared/session/evolve.ts';
import { occurrenceOf, placeAt } from '../../../shared/session/place.ts';
import type { Refusal } from '../../../shared/session/refusal.ts';
import { type Session, usualSettings } from '../../../shared/session/session.ts';
import { english } from '../../../shared/words/languages.ts';
import { after, between, later, type ServerAt } from '../../../shared/time/units.ts';

export interface RehearsalNeeds {
  readonly plan: Plan;
  readonly facts: FactsOf;
  readonly now: () => ServerAt;
  readonly about: NonNullable<Room['about']>;
}

export interface Rehearsal {
  readonly room: () => Room;
  readonly events: () => readonly Event[];
  readonly subscribe: (listener: () => void) => () => void;
  /** Carries the class on to now: says each go that has fallen due, at the instant at which it did. */
  readonly step: () => void;
}

/** A page that slept for hours walks through them in steps, so that nothing it should have said go to is forgotten. */
const STEP_MS = 60_000;

/** The instant at which go is said by itself, if that has come by now. */
function goAt(s: Session, now: ServerAt): ServerAt | null {
  const place = placeAt(s, now);
  const interval = s.intervals[place.index];
  if (s.pause || place.over || interval?.ends !== 'go' || place.countInMs > 0) return null;
  const overMs = place.elapsedMs - interval.lengthMs;
  return overMs < 0 ? null : after(now, -overMs);
}

export function openRehearsal({ plan, facts, now, about }: RehearsalNeeds): Rehearsal | { readonly refused: Refusal } {
  const startAt = now();
  const start: Command = { type: 'start', session: `rehearsal-${startAt}`, room: about.room.id, plan, facts, settings: usualSettings, freeAt: null };
  const begun = decide(null, start, startAt);
  if ('refused' in begun) return begun;
  const listeners = new Set<() => void>();
  const events: Event[] = [...begun.events];
  let session = begun.events.reduce<Session | null>(evolve, null) as Session;
  let walkedAt = startAt;

  const say = (command: Command, at: ServerAt): Refusal | null => {
    const decided = decide(session, command, later(at, session.lastAt));
    if ('refused' in decided) return decided.refused;
    for (const event of decided.events) {
      events.push(event);
      session = evolve(session, event);
    }
    return null;
  };
  const walk = () => {
    const end = now();
    while (walkedAt < end) {
      walkedAt = after(walkedAt, Math.min(STEP_MS, between(walkedAt, end)));
      for (let at = goAt(session, walkedAt); at !== null; at = goAt(session, walkedAt)) {
        if (say({ type: 'go', occurrence: occurrenceOf(session, placeAt(session, at).index) }, at)) break;
      }
    }
  };
  const tell = () => {
    room = { ...room, session, seq: events.length };
    for (const listener of listeners) listener();
  };
  const step = () => {
    const before = events.length;
    walk();
    if (events.length !== before) tell();
  };
  const send = async (command: Parameters<Room['send']>[0]): Promise<Sent> => {
    if (command.type === 'start' || command.type === 'change') return { done: false, sentence: english.say.rehearsal.keepsToPlan, reason: 'not-allowed' };
    step();
    const refused = say(command, now());
    if (refused) return { done: false, sentence: refused.sentence, reason: refused.reason };
    tell();
    return { done: true };
  };

  const onSession: Room['onSession'] = (listener) => {
    const hear = () => listener(session, events.length);
    listeners.add(hear);
    hear();
    return () => { listeners.delete(hear); };
  };
  let room: Room = { link: { state: 'live', since: 0 }, about, session, seq: events.length, now, errorMs: () => 0, send, choose: () => {}, tell: async () => ({ done: true }), sound: async () => ({ screens: 0 }), onPlay: () => () => undefined, onSession };
  return {
    room: () => room,
    events: () => events,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => { listeners.delete(listener); };
    },
    step,
  };
}
