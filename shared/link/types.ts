/**
 * Owns what a page knows of its room and of its connection: the one object that
 * display and remote are written against. How it is kept true is link.ts's business.
 */
import type { Refusal } from '../session/refusal.ts';
import type { Session } from '../session/session.ts';
import type { ServerAt } from '../time/units.ts';
import type { CommandMessage } from '../wire/messages/command.ts';
import type { Snapshot } from '../wire/messages/snapshot.ts';
import type { Play, SoundReply, SoundSay } from '../wire/messages/sound.ts';
import type { Tell, Told } from '../wire/messages/tell.ts';

/** Each state says since when (device time, ms) and why; each has a limit (see link.ts). */
export type LinkState =
  | { readonly state: 'connecting'; readonly since: number; readonly attempt: number }
  | { readonly state: 'joining'; readonly since: number }
  | { readonly state: 'live'; readonly since: number }
  | { readonly state: 'lost'; readonly since: number; readonly reason: string }
  | { readonly state: 'refused'; readonly since: number; readonly reason: Refusal };

/** What became of one tap. It is never kept for later. */
export type Sent =
  | { readonly done: true }
  | { readonly done: false; readonly sentence: string; readonly reason: Refusal['reason'] | 'offline' };

export interface Room {
  readonly link: LinkState;
  /** Everything beside the class as the server last said it; null before the first word. */
  readonly about: Omit<Snapshot, 'session'> | null;
  /** The class as its log says it stands; null where none is on. */
  readonly session: Session | null;
  /** How many events that is. */
  readonly seq: number;
  /** The server's clock now, steady: it never runs backwards. Null before the first sample. */
  readonly now: () => ServerAt | null;
  /** How far `now` may be off, in milliseconds. */
  readonly errorMs: () => number | null;
  /** Lays out a plan for the next class, so that the screen shows it; null puts it back. */
  readonly choose: (plan: string | null) => void;
  /** Tells the server what no log holds: who is here, the door check, handing over. At once or not at all. */
  readonly tell: (message: Tell) => Promise<Told>;
  /** Says something of sound, at once or not at all. */
  readonly sound: (say: SoundSay) => Promise<SoundReply>;
  /** Hears what a phone wants played at this screen; gives the way to stop hearing. */
  readonly onPlay: (listener: (play: Play) => void) => () => void;
  /** Tells of the class now, and of each change of it before any page is drawn anew; gives the way to stop hearing. */
  readonly onSession: (listener: (session: Session | null, seq: number) => void) => () => void;
  /** Sends one command, at once or not at all; resolves when it is on disk or refused. */
  readonly send: (command: CommandMessage['command']) => Promise<Sent>;
}
