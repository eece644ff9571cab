/**
 * Owns what servers of one log share beside it, in PostgreSQL: a board of small texts by name,
 * the time that all follow, and what they say to each other. Leaves alone what the texts mean.
 */
import type { Told } from '../core/chain-time.ts';
import type { Ask } from '../files/postgres-files.ts';

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

/**
 * @param all asks for rows of the studio @param common asks for what all studios of the database share: the time
 * @param say tells all servers of the studio, this one too
 */
export function chainStore(all: Ask, common: Ask, say: (text: string) => Promise<unknown>): Omit<ChainStore, 'heard'> {
  const one = async (asked: Promise<readonly object[]>): Promise<boolean> => (await asked).length === 1;
  return {
    time: async () => {
      const [told] = await common<Told>('SELECT extract(epoch FROM clock_timestamp()) * 1000 + "offsetMs" AS at, "offsetMs" FROM authority');
      if (!told) throw new Error('the time of the chain is not there');
      return { at: Number(told.at), offsetMs: told.offsetMs };
    },
    moveTime: (fromMs, toMs) => one(common('UPDATE authority SET "offsetMs" = $2 WHERE "offsetMs" = $1 RETURNING 1', fromMs, toMs)),
    entries: async (start) => new Map((await all<{ entry: string; value: string }>('SELECT entry, value FROM board WHERE studio = $1 AND starts_with(entry, $2)', start)).map((r) => [r.entry, r.value])),
    put: (entry, value, before) => {
      if (before === undefined) return one(all('INSERT INTO board (studio, entry, value) VALUES ($1, $2, $3) ON CONFLICT (studio, entry) DO UPDATE SET value = excluded.value RETURNING 1', entry, value));
      if (before === null) return one(all('INSERT INTO board (studio, entry, value) VALUES ($1, $2, $3) ON CONFLICT (studio, entry) DO NOTHING RETURNING 1', entry, value));
      return one(all('UPDATE board SET value = $3 WHERE studio = $1 AND entry = $2 AND value = $4 RETURNING 1', entry, value, before));
    },
    take: async (entry) => (await all<{ value: string }>('DELETE FROM board WHERE studio = $1 AND entry = $2 RETURNING value', entry))[0]?.value ?? null,
    say: async (text) => { await say(text); },
  };
}
