/**
 * Owns what a device makes of what the server says: a snapshot replaces
 * everything, news is folded on by the same `evolve` that the server uses, and a
 * gap asks for a new snapshot. Pure. Leaves alone how messages come.
 */
import { evolve, replay } from '../session/evolve.ts';
import type { Session } from '../session/session.ts';
import type { News, Presence } from '../wire/messages/news.ts';
import type { Snapshot } from '../wire/messages/snapshot.ts';

export interface Held {
  readonly about: Omit<Snapshot, 'session'> | null;
  readonly session: Session | null;
  readonly seq: number;
}

export const nothingHeld: Held = { about: null, session: null, seq: 0 };

export function foldSnapshot({ session, ...about }: Snapshot): Held {
  return { about, session: session && replay(session.events), seq: session?.events.length ?? 0 };
}

/** A snapshot that was told to all alike: it names nobody, and who this is stays known. */
export const foldTold = (held: Held, snapshot: Snapshot): Held => foldSnapshot({ ...snapshot, you: snapshot.you ?? held.about?.you ?? null });

/**
 * The snapshot in an answer. A transport that hands on several messages in one turn lets
 * news overtake the answer before it; what is held already is then the newer.
 */
export function foldReply(held: Held, snapshot: Snapshot): Held {
  const next = foldSnapshot(snapshot);
  const [mine, theirs] = [held.session, next.session];
  if (!mine) return next;
  const newer = theirs?.id === mine.id ? held.seq > next.seq : !theirs || mine.startedAt > theirs.startedAt;
  return newer ? held : next;
}

export const foldPresence = (held: Held, presence: Presence): Held =>
  held.about ? { ...held, about: { ...held.about, ...presence } } : held;

/** @returns 'gap' where something is missing between what is held and this */
export function foldNews(held: Held, { session, seq, events }: News): Held | 'gap' {
  const [first] = events;
  if (first?.type === 'started' && seq === events.length && held.session?.id !== session) {
    const next = replay(events);
    // Where servers share a room, the start of a class may come by a slow way after the class that followed it.
    return held.session && next && held.session.startedAt > next.startedAt ? held : { ...held, session: next, seq };
  }
  if (held.session?.id !== session) return 'gap';
  if (seq <= held.seq) return held;
  const missing = seq - held.seq;
  if (missing > events.length) return 'gap';
  return { ...held, session: events.slice(events.length - missing).reduce<Session | null>(evolve, held.session), seq };
}
