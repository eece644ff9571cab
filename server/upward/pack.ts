/** Owns what goes into one message to the chain: whole commands of classes in the order of their starts, up to a size. */
import { HOUSE_CLASSES_MAX, HOUSE_COMMANDS_MAX, HOUSE_MESSAGE_BYTES } from '../../shared/limits.ts';
import type { Chunk } from '../../shared/wire/house.ts';
import type { Row } from '../core/store.ts';

export interface Due {
  readonly id: string;
  /** The whole log of the class. */
  readonly rows: readonly Row[];
  /** Number of the newest event that is there. */
  readonly have: number;
  readonly closed: boolean;
  readonly answers: Chunk['answers'];
}
type Command = Chunk['commands'][number];

/** The events behind a number, by their commands. */
export function commandsAfter(rows: readonly Row[], have: number): Command[] {
  const out: { id: string; events: Row['event'][] }[] = [];
  for (const row of rows.slice(have)) {
    const last = out.at(-1);
    if (last?.id === row.command) last.events.push(row.event);
    else out.push({ id: row.command, events: [row.event] });
  }
  return out;
}

const bytesOf = (command: Command): number => Buffer.byteLength(JSON.stringify(command));

/** Messages, one after the other, in which a class is cut between its commands where it is too long for one. @param due read one at a time: a week of classes is more than memory should hold */
export async function* messagesOf(due: AsyncIterable<Due>): AsyncGenerator<Chunk[]> {
  let message: Chunk[] = [];
  let bytes = 0;
  for await (const { id, rows, have, closed, answers } of due) {
    let from = have + 1;
    let after = have > 0 ? rows[have - 1]?.command ?? null : null;
    let commands: Command[] = [];
    for (const command of commandsAfter(rows, have)) {
      const size = bytesOf(command);
      if ((bytes > 0 && bytes + size > HOUSE_MESSAGE_BYTES) || commands.length >= HOUSE_COMMANDS_MAX) {
        if (commands.length > 0) message.push({ id, from, after, commands, closed: false, answers: [] });
        if (message.length > 0) yield message;
        after = commands.at(-1)?.id ?? after;
        from += commands.reduce((n, c) => n + c.events.length, 0);
        commands = [];
        message = [];
        bytes = 0;
      }
      commands.push(command);
      bytes += size;
    }
    message.push({ id, from, after, commands, closed, answers });
    if (message.length < HOUSE_CLASSES_MAX) continue;
    yield message;
    message = [];
    bytes = 0;
  }
  if (message.length > 0) yield message;
}
