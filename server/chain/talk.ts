/**
 * Owns what servers of one log say to each other beside it: through the database, and through
 * Redis while the database is away. What is heard is parsed here, once. Nothing of it is needed for a
 * class to be right; whoever was away says hello and is told anew.
 */
import { z } from 'zod';
import { peopleSchema } from '../../shared/wire/messages/people.ts';
import { playSchema } from '../../shared/wire/messages/sound.ts';
import type { ChainStore } from '../store/chain-store.ts';
import type { Redis } from './redis.ts';

const from = z.string();
const room = z.string();
const messageSchema = z.discriminatedUnion('say', [
  z.strictObject({ say: z.literal('hello'), from }),
  z.strictObject({ say: z.literal('alive'), from }),
  z.strictObject({ say: z.literal('bye'), from }),
  // One is about to start that does not know the time yet: whoever does looks at the database's clock.
  z.strictObject({ say: z.literal('clock'), from }),
  z.strictObject({ say: z.literal('present'), from, room, screens: z.number(), phones: z.number() }),
  z.strictObject({ say: z.literal('chosen'), from, room, plan: z.string().nullable() }),
  z.strictObject({ say: z.literal('play'), from, room, play: playSchema, at: z.number() }),
  z.strictObject({ say: z.literal('stop'), from, room, stop: peopleSchema.shape.stop }),
  z.strictObject({ say: z.literal('code-used'), from, code: z.string() }),
  z.strictObject({ say: z.literal('file'), from, file: z.string() }),
]);
export type Message = z.infer<typeof messageSchema>;
type Said = Message extends infer M ? M extends Message ? Omit<M, 'from'> : never : never;

export interface Talk {
  readonly say: (message: Said) => void;
  /** The same, and resolves when it has left; rejects where the database is away. */
  readonly sayFirst: (message: Said) => Promise<void>;
  /** Calls with what others say, and with null where something may have been missed. */
  readonly listen: (heard: (message: Message | null) => void) => void;
}

/** @param me name of this server @param redis null where there is none */
export function openTalk(me: string, chain: Pick<ChainStore, 'say' | 'heard'>, redis: Pick<Redis, 'ready' | 'say' | 'heard'> | null, warn: (sentence: string) => void): Talk {
  const listeners: ((message: Message | null) => void)[] = [];
  let closed = false;
  const hear = (text: string | null): void => {
    const message = text === null ? null : read(text);
    if (message === undefined || message?.from === me) return;
    for (const listener of listeners) listener(message);
  };
  chain.heard(hear);
  redis?.heard(hear);
  return {
    say: (message) => {
      if (closed) return;
      if (message.say === 'bye') closed = true;
      const text = JSON.stringify({ ...message, from: me });
      chain.say(text).catch((error: unknown) => {
        if (redis?.ready()) redis.say(text);
        else if (!closed) warn(`other servers could not be told of something (${String(error)}); they ask for it when they can.`);
      });
    },
    sayFirst: (message) => chain.say(JSON.stringify({ ...message, from: me })),
    listen: (heard) => { listeners.push(heard); },
  };
}

/** A newer server may say what this one does not understand: that is left out. */
function read(text: string): Message | undefined {
  try {
    return messageSchema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}
