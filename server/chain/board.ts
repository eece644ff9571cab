/**
 * Owns pairing codes and stops without a class on the board that servers of one log share: a code
 * that one server's screen shows is taken by whichever server it is typed at, once; a room that is
 * stopped is stopped on all. Leaves alone what a code opens (pairing.ts) and what a stop holds up (core).
 */
import { z } from 'zod';
import { STOP_KEPT_MS } from '../../shared/limits.ts';
import { between, type ServerAt, serverAt } from '../../shared/time/units.ts';
import { peopleSchema } from '../../shared/wire/messages/people.ts';
import type { SharedCodes } from '../pairing.ts';
import type { BesideStop } from '../core/room-stop.ts';
import type { KeptStops } from '../people/kept-stops.ts';
import type { ChainStore } from '../store/chain-store.ts';
import type { Talk } from './talk.ts';

type Board = Pick<ChainStore, 'entries' | 'put' | 'take'>;
const codeSchema = z.strictObject({ room: z.string(), until: z.number() });
const stopSchema = peopleSchema.shape.stop.unwrap();
const parse = <T>(schema: z.ZodType<T>, text: string): T | null => {
  try {
    return schema.safeParse(JSON.parse(text)).data ?? null;
  } catch {
    return null;
  }
};

/** @param clash the code was another server's already; the room needs a new one */
export function boardCodes(board: Board, talk: Talk, warn: (sentence: string) => void, clash: (code: string) => void): SharedCodes {
  /** Those of this server, on their way to the board or there; one that did not arrive is good here. */
  const mine = new Map<string, { readonly room: string; readonly until: ServerAt; readonly written: Promise<boolean> }>();
  return {
    made: (code, room, until) => {
      for (const [before, of] of mine) if (of.room === room) mine.delete(before);
      const written = board.put(`code/${code}`, JSON.stringify({ room, until }), null).then((ours) => {
        if (!ours) clash(code);
        return true;
      }, (error: unknown) => {
        warn(`a pairing code is known to this server alone: ${String(error)}`);
        return false;
      });
      mine.set(code, { room, until, written });
    },
    dropped: (code) => { board.take(`code/${code}`).catch(() => {}); },
    take: async (code) => {
      const own = mine.get(code);
      mine.delete(code);
      if (own && !(await own.written)) return own;
      const text = await board.take(`code/${code}`);
      if (text === null) return null;
      talk.say({ say: 'code-used', code });
      const found = parse(codeSchema, text);
      return found && { room: found.room, until: serverAt(found.until) };
    },
  };
}

const fresh = (stop: BesideStop | undefined, now: ServerAt): BesideStop | null => (stop && Math.abs(between(stop.since, now)) < STOP_KEPT_MS ? stop : null);

export interface BoardStops extends KeptStops {
  /** Something may have been missed: what stands on the board is taken, and what could not be written there while it was away is. */
  readonly again: (rooms: readonly { readonly room: string; readonly beside: () => BesideStop | null; readonly adopt: (stop: BesideStop | null) => void }[], now: () => ServerAt) => Promise<void>;
}

export async function boardStops(board: Board, talk: Talk, warn: (sentence: string) => void): Promise<BoardStops> {
  const all = async (): Promise<ReadonlyMap<string, BesideStop>> => new Map([...await board.entries('stop/')].flatMap(([entry, text]) => {
    const stop = parse(stopSchema, text);
    return stop ? [[entry.slice('stop/'.length), stop] as const] : [];
  }));
  const first = await all();
  let last: Promise<void> = Promise.resolve();
  const unwritten = new Set<string>();
  let writes = 0;
  const keep = (room: string, stop: BesideStop | null): Promise<void> => {
    writes += 1;
    talk.say({ say: 'stop', room, stop });
    last = last.then(async () => { await (stop ? board.put(`stop/${room}`, JSON.stringify(stop)) : board.take(`stop/${room}`)); unwritten.delete(room); })
      .catch((error: unknown) => {
        unwritten.add(room);
        warn(`a stop cannot be written down yet: a room that is stopped now may not be after a restart. (${String(error)})`);
      });
    return last;
  };
  return {
    again: async (rooms, now) => {
      for (let before = -1; before !== writes;) {
        before = writes;
        await last;
        const there = await all().catch(() => null);
        // What was pressed while the board was read is newer than it.
        if (there === null || before !== writes) continue;
        for (const { room, beside, adopt } of rooms) {
          if (unwritten.has(room)) void keep(room, beside());
          else adopt(fresh(there.get(room), now()));
        }
        return;
      }
    },
    of: (room, now) => fresh(first.get(room), now),
    keep,
  };
}
