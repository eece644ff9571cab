/**
 * Owns what one device knows of the signals it has given: each is given once, a
 * late frame still gives it, and an old one is never given after a gap. Pure:
 * every step makes a new player. Leaves alone sound, caption and buzz themselves.
 */
import type { Session } from '../session/session.ts';
import { after, later, type ServerAt, serverAt } from '../time/units.ts';
import { APART_MS, CAPTION_MS, captionOf, giveWay, keyOf, LATE_MS, LEAD_MS, type Signal } from './signal-kinds.ts';
import { candidates, type SignalOptions, signalOfCommand } from './signals.ts';

export interface Player {
  readonly session: Session | null;
  /** How many events `session` is made of. */
  readonly seq: number;
  /** From here on `session` says what comes: its newest event, and the lead. */
  readonly from: ServerAt;
  /** What comes up to then: settled before the newest event, or said by it. */
  readonly made: readonly Signal[];
  /** Given a short while ago, oldest first. */
  readonly given: readonly Signal[];
}

export const newPlayer: Player = { session: null, seq: 0, from: serverAt(0), made: [], given: [] };

/** Made signals are kept this long: until neither late nor in anybody's way. */
const KEEP_MS = LATE_MS + APART_MS;

/** A class of which the events before the newest are not known, or were not followed. */
function anew(session: Session, seq: number, options: SignalOptions): Player {
  const at = session.lastAt;
  const from = after(at, LEAD_MS);
  const made = session.pause?.stop ? [] : candidates(session, at, from, options).map((s) => (s.at === at ? { ...s, at: from } : s));
  return { ...newPlayer, session, seq, from, made };
}

/** Takes the class as it stands now. After a gap in the events nothing that lies behind is made up. */
export function follow(p: Player, session: Session | null, seq: number, options: SignalOptions, now: ServerAt): Player {
  if (session === p.session) return p;
  if (!session) return newPlayer;
  const same = p.session?.id === session.id;
  if (!same || !p.session || seq !== p.seq + 1) {
    const fresh = anew(session, seq, options);
    // The caption of what was missed may still be read; it is not sounded any more.
    return { ...fresh, given: same ? p.given : upcoming(fresh, after(now, -CAPTION_MS), after(now, -LATE_MS), options) };
  }
  const at = session.lastAt;
  const from = after(at, LEAD_MS);
  // What lies so near on the audio clock cannot be taken back on every screen alike.
  const settled = upcoming(p, after(at, -KEEP_MS), from, options);
  const known = new Set(candidates(p.session, at, from, options).map(keyOf));
  const said = signalOfCommand(p.session, session, options);
  const news = [...candidates(session, at, from, options).filter((s) => !known.has(keyOf(s))), ...(said ? [said] : [])].map((s) => ({ ...s, at: from }));
  return { ...p, session, seq, from, made: session.pause?.stop ? [] : [...settled, ...news] };
}

/** The signals to be given from one instant up to, not including, another. */
export function upcoming(p: Player, from: ServerAt, to: ServerAt, options: SignalOptions): readonly Signal[] {
  // In a stop nothing sounds, not even what came just before it.
  if (!p.session || p.session.pause?.stop) return [];
  const near = candidates(p.session, later(after(from, -APART_MS), p.from), after(to, APART_MS), options);
  const settled = p.made.filter((s) => s.at < p.from);
  const kept = giveWay([...p.made, ...near]).filter((s) => s.at >= p.from);
  return [...settled, ...kept].filter((s) => s.at >= from && s.at < to);
}

/** What has to be given now and was not yet. */
export function due(p: Player, options: SignalOptions, now: ServerAt): { readonly player: Player; readonly signals: readonly Signal[] } {
  const given = new Set(p.given.map(keyOf));
  // A frame that is too late for a sound is not too late for its caption.
  const fresh = upcoming(p, after(now, -CAPTION_MS), after(now, 1), options).filter((s) => !given.has(keyOf(s)));
  const kept = p.given.filter((s) => now - s.at < CAPTION_MS);
  if (fresh.length === 0 && kept.length === p.given.length) return { player: p, signals: fresh };
  return { player: { ...p, given: [...kept, ...fresh] }, signals: fresh.filter((s) => now - s.at <= LATE_MS) };
}

/** The signal whose caption is on the screen. */
export const captionNow = (p: Player, now: ServerAt): Signal | null => (p.session?.pause?.stop ? null : captionOf(p.given, now));
