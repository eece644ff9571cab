/**
 * Owns what servers of one log share beside it, in PostgreSQL: a board of small texts by name,
 * the time that all follow, and what they say to each other. Leaves alone what the texts mean.
 */
import type { Told } from '../core/chain-time.ts';

export interface ChainStore {
  /** The time of the chain as the database has it now. */
  readonly time: () => Promise<Told>;
  /** Moves the time of the chain against the database's clock; false where another server has moved it since. */
  readonly moveTime: (fromMs: number, toMs: number) => Promise<boolean>;
  /** All entries whose names begin so, by name. */
  readonly entries: (start: string) => Promise<ReadonlyMap<string, string>>;
  /** @param before what has to stand there now, null for nothing; left out, it is written over. False where something else stood there. */
  readonly put: (entry: string, value: string, before?: string | null) => Promise<boolean>;
  /** Takes an entry away and gives what it was: of all who ask for it at once, to one. */
  readonly take: (entry: string) => Promise<string | null>;
  /** To all other servers, at most 7,900 bytes, once; whoever is away does not hear it. */
  readonly say: (text: string) => Promise<void>;
  /** What others say; null where something may have been missed. */
  readonly heard: (listen: (text: string | null) => void) => void;
}

type Ask = <R extends object>(sql: string, ...values: readonly unknown[]) => Promise<R[]>;
type Count = (sql: string, ...values: readonly unknown[]) => Promise<number>;

/** @param say tells all servers, this one too */
export function chainStore(all: Ask, changed: Count, say: (text: string) => Promise<unknown>): Omit<ChainStore, 'heard'> {
  return {
    time: async () => {
      const [told] = await all<Told>('SELECT extract(epoch FROM clock_timestamp()) * 1000 + "offsetMs" AS at, "offsetMs" FROM authority');
      if (!told) throw new Error('the time of the chain is not there');
      return { at: Number(told.at), offsetMs: told.offsetMs };
    },
    moveTime: async (fromMs, toMs) => (await changed('UPDATE authority SET "offsetMs" = $2 WHERE "offsetMs" = $1', fromMs, toMs)) === 1,
    entries: async (start) => new Map((await all<{ entry: string; value: string }>('SELECT entry, value FROM board WHERE starts_with(entry, $1)', start)).map((r) => [r.entry, r.value])),
    put: async (entry, value, before) => {
      if (before === undefined) return (await changed('INSERT INTO board (entry, value) VALUES ($1, $2) ON CONFLICT (entry) DO UPDATE SET value = excluded.value', entry, value)) === 1;
      if (before === null) return (await changed('INSERT INTO board (entry, value) VALUES ($1, $2) ON CONFLICT (entry) DO NOTHING', entry, value)) === 1;
      return (await changed('UPDATE board SET value = $2 WHERE entry = $1 AND value = $3', entry, value, before)) === 1;
    },
    take: async (entry) => (await all<{ value: string }>('DELETE FROM board WHERE entry = $1 RETURNING value', entry))[0]?.value ?? null,
    say: async (text) => { await say(text); },
  };
}
