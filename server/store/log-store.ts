/** Owns what the server asks of the log, whichever engine keeps it: what a room is promised (core/store.ts), and all beside it. */
import { eventSchema } from '../../shared/session/command.ts';
import { NotUnderstood, type Row, type Store } from '../core/store.ts';
import type { PostgresFiles } from '../files/postgres-files.ts';
import type { ChainStore } from './chain-store.ts';
import type { Keeper } from './database.ts';

/** Questions that are passed on as they are; a failure is a rejection. */
export const passed = ['stamps', 'since', 'far', 'texts', 'summary', 'answer', 'answers', 'answersAtLeast', 'remove', 'old', 'backup'] as const;
type Passed = { readonly [K in (typeof passed)[number]]: (...args: Parameters<Keeper[K]>) => Promise<Awaited<ReturnType<Keeper[K]>>> };

export interface LogStore extends Store, Passed {
  readonly readOnly: string | null;
  readonly phones: () => Promise<ReturnType<Keeper['phones']>>;
  readonly pair: (token: string, room: string, at: number) => Promise<boolean>;
  readonly unpair: (token: string) => Promise<boolean>;
  readonly newest: (limit: number) => Promise<ReturnType<Keeper['newest']>>;
  readonly shows: (session: string) => Promise<ReturnType<Keeper['shows']>>;
  readonly mark: () => Promise<ReturnType<Keeper['mark']>>;
  readonly setMark: (...mark: Parameters<Keeper['setMark']>) => Promise<boolean>;
  readonly writable: () => Promise<boolean>;
  readonly stop: () => Promise<void>;
  /** Where other servers write to the same log: calls with the room whose log they have added to, or with null where any may have grown and phones may have come or gone. */
  readonly grown?: (heard: (room: string | null) => void) => void;
  /** What servers of one log share beside it; left out where there is only one. */
  readonly chain?: ChainStore;
  /** What the studio keeps beside it, where that is no folder. */
  readonly files?: PostgresFiles;
}

/** Rows come from a place that others can write; what is no event of ours is said with its number. */
export function rowsOf(raw: readonly { seq: number; command: string; event: unknown }[]): readonly Row[] {
  return raw.map((row) => {
    const parsed = eventSchema.safeParse(row.event);
    if (!parsed.success) throw new NotUnderstood(`event ${row.seq} is not understood (${parsed.error.issues[0]?.message ?? ''})`);
    return { ...row, event: parsed.data };
  });
}

/** What is no JSON is nothing; rowsOf then says which event it is. */
export function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
