/**
 * Owns what one device knows of the signals it has given: each is given once, a
 * late frame still gives it, and an old one is never given after a gap. Pure:
 * every step makes a new player. Leaves alone sound, caption and buzz themselves.
 */
import type { Session } from '../session/session.ts';
import { after, type ServerAt } from '../time/units.ts';
import { CAPTION_MS, captionOf, giveWay, keyOf, LATE_MS, type Signal, APART_MS } from './signal-kinds.ts';
import { candidates, type SignalOptions, signalOfCommand, signalsBetween } from './signals.ts';

export interface Player {
  readonly session: Session | null;
  /** How many events `session` is made of. */
  readonly seq: number;
  /** Signals that the class alone no longer tells: what a command said, and what came just before it. */
  readonly made: readonly Signal[];
  /** Given a short while ago, oldest first. */
  readonly given: readonly Signal[];
}

export const newPlayer: Player = { session: null, seq: 0, made: [], given: [] };

/** Made signals are kept this long: until neither late nor in anybody's way. */
const KEEP_MS = LATE_MS + APART_MS;

/** Takes the class as it stands now. After a gap in the events nothing that lies behind is made up. */
export function follow(p: Player, session: Session | null, seq: number, options: SignalOptions, now: ServerAt): Player {
  if (session === p.session) return p;
  if (!session) return { ...newPlayer };
  const same = p.session?.id === session.id;
  if (!same || !p.session || seq !== p.seq + 1) {
    // The caption of what was missed may still be read; it is not sounded any more.
    const missed = signalsBetween(session, after(now, -CAPTION_MS), after(now, -LATE_MS), options);
    return { session, seq, made: [], given: same ? p.given : missed };
  }
  const at = session.lastAt;
  const said = signalOfCommand(p.session, session);
  const before = candidates(p.session, after(at, -KEEP_MS), after(at, 1), options);
  const made = session.pause?.stop ? [] : [...p.made, ...before, ...(said ? [said] : [])].filter((s) => now - s.at < KEEP_MS);
  return { ...p, session, seq, made };
}

/** The signals to be given from one instant up to, not including, another. */
export function upcoming(p: Player, from: ServerAt, to: ServerAt, options: SignalOptions): readonly Signal[] {
  // In a stop nothing sounds, not even what came just before it.
  if (!p.session || p.session.pause?.stop) return [];
  const near = candidates(p.session, after(from, -APART_MS), after(to, APART_MS), options);
  return giveWay([...near, ...p.made]).filter((s) => s.at >= from && s.at < to);
}

/** What has to be given now and was not yet. */
export function due(p: Player, options: SignalOptions, now: ServerAt): { readonly player: Player; readonly signals: readonly Signal[] } {
  const given = new Set(p.given.map(keyOf));
  const signals = upcoming(p, after(now, -LATE_MS), after(now, 1), options).filter((s) => !given.has(keyOf(s)));
  const kept = p.given.filter((s) => now - s.at < CAPTION_MS);
  if (signals.length === 0 && kept.length === p.given.length) return { player: p, signals };
  return { player: { ...p, given: [...kept, ...signals] }, signals };
}

/** The signal whose caption is on the screen. */
export const captionNow = (p: Player, now: ServerAt): Signal | null => (p.session?.pause?.stop ? null : captionOf(p.given, now));
