/**
 * Owns the commands that wait in one room: their order, how long they wait at most, that one which
 * arrives twice has one answer, and what was refused. Leaves alone what a command leads to (room.ts).
 */
import { ROOM_QUEUE_MAX } from '../../shared/limits.ts';
import { type Refusal, refuse } from '../../shared/session/refusal.ts';
import { after, between, type ServerAt } from '../../shared/time/units.ts';
import type { CommandMessage } from '../../shared/wire/messages/command.ts';

export type Answer = { readonly seq: number } | { readonly refused: Refusal };
export interface Waiting { readonly message: CommandMessage; readonly receivedAt: ServerAt }

interface QueueNeeds {
  readonly now: () => ServerAt;
  readonly timer: (at: ServerAt, run: () => void) => () => void;
  /** The number that a command led to, as far as is known. */
  readonly acted: (command: string) => number | undefined;
}

export interface Queue {
  readonly put: (message: CommandMessage, receivedAt: ServerAt) => Promise<Answer>;
  /** Takes the next in hand; null where nobody waits. @param failing the log took nothing just now */
  readonly next: (failing: boolean) => Waiting | null;
  readonly answer: (waiting: Waiting, answer: Answer) => void;
  /** What this command was refused for, lately. */
  readonly refused: (command: string) => Refusal | undefined;
  /** Whether it waits or is in hand. */
  readonly has: (command: string) => boolean;
  /** Takes no more; who waits is told that it is too much. */
  readonly close: () => void;
}

/** Refusals remembered, so that a message that arrives twice is not taken the second time. */
const REFUSALS_KEPT = 256;
/** Behind a log that does not answer a command is refused with the reason while somebody still listens: within 2 s. */
const WAITS_MOST_MS = 1_900;
/** Once the log has failed, what has waited so long already is not tried: the next failure may take its time. */
const WAITED_BEHIND_MS = 300;

export function openQueue({ now, timer, acted }: QueueNeeds): Queue {
  interface Entry extends Waiting { readonly answers: Promise<Answer>; readonly resolve: (answer: Answer) => void; readonly callOff: () => void }
  const queue: Entry[] = [];
  /** All that wait and the one in hand, by command. */
  const open = new Map<string, Entry>();
  const refused = new Map<string, Refusal>();
  let closed = false;

  const tell = (entry: Entry, answer: Answer): void => {
    const { id } = entry.message;
    entry.callOff();
    open.delete(id);
    if ('refused' in answer) {
      refused.set(id, answer.refused);
      const oldest = refused.keys().next();
      if (refused.size > REFUSALS_KEPT && !oldest.done) refused.delete(oldest.value);
    }
    entry.resolve(answer);
  };
  /** It was not tried: refused with the reason, unless it is known to have acted before. */
  const giveUp = (entry: Entry): void => {
    const seq = acted(entry.message.id);
    tell(entry, seq === undefined ? refuse('not-stored') : { seq });
  };

  return {
    put: (message, receivedAt) => {
      const same = open.get(message.id);
      if (same) return same.answers;
      if (closed || queue.length >= ROOM_QUEUE_MAX) return Promise.resolve(refuse('busy'));
      let resolve: (answer: Answer) => void = () => {};
      const answers = new Promise<Answer>((done) => { resolve = done; });
      const callOff = timer(after(now(), WAITS_MOST_MS), () => {
        const at = queue.indexOf(entry);
        if (at < 0) return;
        queue.splice(at, 1);
        giveUp(entry);
      });
      const entry: Entry = { message, receivedAt, answers, resolve, callOff };
      queue.push(entry);
      open.set(message.id, entry);
      return answers;
    },
    next: (failing) => {
      for (let entry = queue.shift(); entry; entry = queue.shift()) {
        if (!failing || between(entry.receivedAt, now()) <= WAITED_BEHIND_MS) return entry;
        giveUp(entry);
      }
      return null;
    },
    answer: ({ message }, answer) => {
      const entry = open.get(message.id);
      if (entry) tell(entry, answer);
    },
    refused: (command) => refused.get(command),
    has: (command) => open.has(command),
    close: () => {
      closed = true;
      for (const entry of queue.splice(0)) tell(entry, refuse('busy'));
    },
  };
}
