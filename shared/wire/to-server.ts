/** Owns the list of what a device may say over the socket. */
import type { Choose } from './messages/choose.ts';
import type { CommandMessage, CommandReply } from './messages/command.ts';
import type { Join, JoinReply } from './messages/join.ts';
import type { SampleReply } from './messages/sample.ts';
import type { SoundReply, SoundSay } from './messages/sound.ts';
import type { Tell, Told } from './messages/tell.ts';

export interface ToServer {
  join: (message: Join, reply: (reply: JoinReply) => void) => void;
  sample: (reply: (reply: SampleReply) => void) => void;
  choose: (message: Choose) => void;
  sound: (message: SoundSay, reply: (reply: SoundReply) => void) => void;
  tell: (message: Tell, reply: (reply: Told) => void) => void;
  command: (message: CommandMessage, reply: (reply: CommandReply) => void) => void;
}
