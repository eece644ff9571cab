/**
 * Owns what the link needs of a connection, so that the same link runs on a real
 * socket (socket.ts) and on a simulated one. Questions reject where no answer
 * comes in time; nothing is ever kept to be said later.
 */
import type { Choose } from '../wire/messages/choose.ts';
import type { CommandMessage, CommandReply } from '../wire/messages/command.ts';
import type { Join, JoinReply } from '../wire/messages/join.ts';
import type { News, Presence } from '../wire/messages/news.ts';
import type { SampleReply } from '../wire/messages/sample.ts';
import type { Play, SoundReply, SoundSay } from '../wire/messages/sound.ts';
import type { Snapshot } from '../wire/messages/snapshot.ts';
import type { Tell, Told } from '../wire/messages/tell.ts';

export interface WireListener {
  /** The connection stands; it is a new one each time. */
  readonly up: () => void;
  readonly down: (reason: string) => void;
  /** Another try to connect has failed. */
  readonly failed: (attempt: number) => void;
  readonly snapshot: (message: Snapshot) => void;
  readonly news: (message: News) => void;
  readonly presence: (message: Presence) => void;
  readonly play: (message: Play) => void;
}

export interface Wire {
  readonly join: (message: Join, limitMs: number) => Promise<JoinReply>;
  readonly sample: (limitMs: number) => Promise<SampleReply>;
  readonly command: (message: CommandMessage, limitMs: number) => Promise<CommandReply>;
  readonly tell: (message: Tell, limitMs: number) => Promise<Told>;
  /** Said where it can be; nobody waits for it. */
  readonly choose: (message: Choose) => void;
  readonly sound: (message: SoundSay, limitMs: number) => Promise<SoundReply>;
  /** Drops the connection, if there is one, and connects at once. */
  readonly again: () => void;
  readonly close: () => void;
}

export type OpenWire = (listener: WireListener) => Wire;
