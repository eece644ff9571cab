/**
 * Owns the studios that report to this server: the keeper of each, in its own part of the database, its book, and
 * one message of it after the other. Leaves alone what a message says (receive.ts) and how it comes (http.ts).
 */
import type { StudioFiles } from '../files/files.ts';
import { keepRetaining } from '../keep/retain.ts';
import type { Settings } from '../settings.ts';
import { CannotOpen } from '../store/database.ts';
import type { LogStore } from '../store/log-store.ts';
import { postgresStore } from '../store/postgres.ts';
import { type Book, openBook } from './book.ts';

export interface House {
  readonly id: string;
  readonly name: string;
  readonly store: LogStore;
  readonly book: Book;
  /** What the chain plans for it: its timetable. */
  readonly files: StudioFiles;
  /** Runs when what this house asked before is done. */
  readonly inTurn: <T>(work: () => Promise<T>) => Promise<T>;
}

export interface Houses {
  readonly list: readonly House[];
  readonly of: (id: string) => House | null;
  readonly stop: () => Promise<void>;
}

/** A house is asked and written to one message at a time, and looked at beside. */
const CONNECTIONS = 2;

export function makeHouse(id: string, name: string, store: LogStore): House {
  const { chain, files } = store;
  if (!chain || !files) throw new Error('houses need a keeper that servers share');
  let last: Promise<unknown> = Promise.resolve();
  return {
    id, name, store, files, book: openBook(id, chain),
    inTurn: (work) => {
      const mine = last.then(work);
      last = mine.catch(() => {});
      return mine;
    },
  };
}

const reporting = ({ houses, studioId }: Pick<Settings, 'houses' | 'studioId'>) => houses.filter((h) => h.id !== studioId);
/** Whether any studio but this server's own reports here. */
export const takesReports = (settings: Pick<Settings, 'houses' | 'studioId'>): boolean => reporting(settings).length > 0;

/** Opens all houses of the settings but this server's own studio. Rejects with a sentence. */
export async function openHouses(settings: Settings, now: () => number, warn: (sentence: string) => void): Promise<Houses | null> {
  const { database, keepDays } = settings;
  const others = reporting(settings);
  if (database === null || others.length === 0) return null;
  const list: House[] = [];
  const stop = async (): Promise<void> => { await Promise.all(list.map((h) => h.store.stop())); };
  try {
    for (const { id, name } of others) list.push(makeHouse(id, name, await postgresStore(database, (sentence) => warn(`${name}: ${sentence}`), id, CONNECTIONS)));
  } catch (error) {
    await stop();
    throw error instanceof CannotOpen ? error : new CannotOpen(`The houses of HALLCLOCK_HOUSES cannot be opened: ${String(error)}`);
  }
  // What the chain has of a house is kept as long as the chain's own.
  const stops = list.map(({ store }) => keepRetaining({ store, keepDays, now, warn, busy: () => false, removed: () => {} }));
  return {
    list,
    of: (id) => list.find((h) => h.id === id) ?? null,
    stop: async () => {
      for (const end of stops) end();
      await stop();
    },
  };
}
