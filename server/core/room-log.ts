/**
 * Owns what a room knows of its log: the newest class, folded on event by event, and which command
 * led to which number. What was read is taken from the number on that is known. Leaves alone
 * who decides (room.ts) and what a class does with an event (session).
 */
import type { Event } from '../../shared/session/command.ts';
import { evolve, replay } from '../../shared/session/evolve.ts';
import type { Session } from '../../shared/session/session.ts';
import { type Known, NotUnderstood, type Row } from './store.ts';

/** Answers of the class before, remembered so that a message that arrives twice is not taken the second time. */
const ANSWERS_KEPT = 256;

export interface RoomLog {
  readonly events: () => readonly Event[];
  readonly session: () => Session | null;
  /** The newest class of the room; undefined where that is not known. */
  readonly newest: () => string | null | undefined;
  /** What a reader of the log need not be told again; null where that is nothing. */
  readonly known: () => Known | null;
  /** The number that the log had after a command; undefined where it has not acted as far as is known. */
  readonly done: (command: string) => number | undefined;
  /** A command that had nothing to add was answered. */
  readonly answered: (command: string) => void;
  /** Takes what was read behind what is known. @returns from which event on it is new; null where nothing is. Rejects nothing: throws where it does not follow. */
  readonly read: (rows: readonly Row[]) => { readonly session: string; readonly from: number } | null;
  /** Takes what a command of ours has added. @param next the class as it stands with it */
  readonly add: (command: string, more: readonly Event[], next: Session) => void;
  /** The class has left the screens; which one it was stays known. */
  readonly leave: () => void;
}

/** @param rows the log of the newest class; null where it was set aside */
export function openRoomLog(rows: readonly Row[] | null): RoomLog {
  let events: readonly Event[] = [];
  let session: Session | null = null;
  let newest: string | null | undefined = rows === null ? undefined : null;
  let done = new Map<string, number>();

  const add = (more: readonly Event[], next: Session): void => {
    const starts = more[0]?.type === 'started';
    events = starts ? more : [...events, ...more];
    // What the class before was told stays told for a while: its last messages may still arrive twice.
    if (starts) done = new Map([...done].slice(-ANSWERS_KEPT));
    session = next;
    newest = next.id;
  };
  const read: RoomLog['read'] = (found) => {
    const [first] = found;
    if (!first) return null;
    const more = found.map((row) => row.event);
    const whole = first.event.type === 'started';
    // The class that is known, whole: a keeper may say more than it was asked.
    const from = whole && first.event.type === 'started' && first.event.session === session?.id ? events.length : 0;
    if (whole && found.length <= from) return null;
    if (!whole && first.seq !== events.length + 1) throw new NotUnderstood(`event ${first.seq} does not follow on ${events.length}`);
    const next = whole ? replay(more) : more.reduce<Session | null>(evolve, session);
    if (!next) throw new NotUnderstood('events that lead to no class');
    const start = whole ? from : events.length;
    add(more, next);
    for (const row of found) done.set(row.command, row.seq);
    return { session: next.id, from: start };
  };
  read(rows ?? []);

  return {
    events: () => events,
    session: () => session,
    newest: () => newest,
    known: () => {
      if (session) return { session: session.id, seq: events.length };
      return typeof newest === 'string' ? { session: newest, seq: Number.MAX_SAFE_INTEGER } : null;
    },
    done: (command) => done.get(command),
    answered: (command) => { done.set(command, events.length); },
    read,
    add: (command, more, next) => {
      add(more, next);
      done.set(command, events.length);
    },
    leave: () => {
      session = null;
      events = [];
    },
  };
}
