/**
 * Owns a stop that this device made by itself: it holds before the server has heard of
 * it, and without any network. It is laid over what the server said, so that words,
 * sounds and clock need not know where a stop comes from. Pure; use-stop.ts sends.
 */
import { answered, answerOf, nothingYet, stamped } from '../session/commands/stop.ts';
import { evolve } from '../session/evolve.ts';
import { placeAt } from '../session/place.ts';
import type { Session, Stop, StopAnswer, StopStamp } from '../session/session.ts';
import { later, type ServerAt } from '../time/units.ts';
import type { Room } from './types.ts';

/** Stopped here; or led back here, which holds the class paused until the server has heard of it. */
export interface OwnStop extends Stop {
  readonly since: ServerAt;
  readonly back: boolean;
}

export interface StopIn extends Stop { readonly since: ServerAt }

export const ownStop = (since: ServerAt): OwnStop => ({ ...nothingYet, since, back: false });
export const answerHere = (own: OwnStop, what: StopAnswer): OwnStop => ({ ...own, ...answered(own, what) });
export const stampHere = (own: OwnStop, what: StopStamp, at: ServerAt): OwnStop => ({ ...own, ...stamped(own, what, at) });

/** The stop of a room at an instant, the class's or the one beside it; untouched for 4 s it is for help. */
export function stopIn(room: Pick<Room, 'session' | 'about'>, at: ServerAt): StopIn | null {
  const beside = room.about?.people.stop ?? null;
  const { session } = room;
  const pause = session && !placeAt(session, at).over ? session.pause : null;
  const found = beside ?? (pause?.stop ? { ...pause.stop, since: pause.since } : null);
  return found && { ...found, answer: answerOf(found, found.since, at) };
}

/** What the server said, with the stop of this device laid over it. */
export function withOwn(room: Room, own: OwnStop | null): Room {
  if (!own) return room;
  const { session } = room;
  const runs = session !== null && placeAt(session, later(own.since, session.lastAt)).over === null;
  const people = room.about && { ...room.about.people, stop: own.back || runs ? null : stopOnly(own) };
  const about = room.about && people && { ...room.about, people };
  const here = (said: Session | null) => (said && placeAt(said, later(own.since, said.lastAt)).over === null ? standing(said, own) : said);
  const onSession: Room['onSession'] = (listener) => room.onSession((said, seq) => listener(here(said), seq));
  return { ...room, about, session: here(session), onSession };
}

const stopOnly = ({ since, answer, helpCalledAt, helpHereAt }: OwnStop) => ({ since, answer, helpCalledAt, helpHereAt });

function standing(session: Session, own: OwnStop): Session {
  const at = later(own.since, session.lastAt);
  if (own.back) {
    if (session.pause?.stop) return evolve(session, { type: 'came-back', at });
    return session.pause ? session : evolve(session, { type: 'paused', at, reason: null });
  }
  const stopped = session.pause?.stop ? session : evolve(session, { type: 'stopped', at });
  const { pause } = stopped;
  return pause ? { ...stopped, pause: { ...pause, stop: { ...stopOnly(own), ...(pause.stop?.answer && !own.answer ? pause.stop : {}) } } } : stopped;
}

/** What the server must be told next, so that it knows what this device knows; null where it does. */
export function owes(room: Room, own: OwnStop, at: ServerAt): Parameters<Room['send']>[0] | null {
  const { session } = room;
  const known = stopIn(room, at);
  const running = session !== null && placeAt(session, at).over === null;
  if (own.back) {
    if (known) return { type: 'to-paused' };
    return running && session.pause === null ? { type: 'pause', reason: null } : null;
  }
  if (!known) return { type: 'stop' };
  const said = room.about?.people.stop ?? session?.pause?.stop ?? null;
  if (own.answer && said?.answer !== own.answer) return { type: 'answer-stop', what: own.answer };
  if (own.helpCalledAt && !known.helpCalledAt) return { type: 'stamp-stop', what: 'help-called' };
  return own.helpHereAt && !known.helpHereAt ? { type: 'stamp-stop', what: 'help-here' } : null;
}
