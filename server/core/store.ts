/**
 * Owns the promise that every keeper of logs makes to a room. The keepers are
 * memory (here beside), SQLite and PostgreSQL (server/store); one contract test runs
 * against all. Leaves alone what the events mean.
 */
import type { Event } from '../../shared/session/command.ts';
import type { ClassSummary } from '../../shared/wire/http.ts';

/** One event of a class as it is kept. The rows of one command carry its id. */
export interface Row {
  readonly seq: number;
  readonly command: string;
  readonly event: Event;
}

/** What one command adds: all of it or nothing. */
export interface Batch {
  /** The class as the list will show it after these events. */
  readonly summary: ClassSummary;
  /** Sequence number of the first of these events; the log's first is 1. */
  readonly seq: number;
  readonly command: string;
  readonly events: readonly Event[];
  /** Where it starts a class: the newest class of the room that the starter knows, null for none. Left out, it is not looked at. */
  readonly after?: string | null;
}

/**
 * stored: it survives a power cut. taken: nothing of it was kept, because its number, its
 * command id or its room's next class are taken; read the log and decide again. failed:
 * nothing of it was kept, because of the disk. unknown: read the log again.
 */
export type Appended = 'stored' | 'taken' | 'failed' | 'unknown';

/** How far a reader knows a class. */
export interface Known { readonly session: string; readonly seq: number }

export interface ClassPage {
  readonly classes: readonly ClassSummary[];
  readonly before: number | null;
}

export interface Store {
  readonly append: (batch: Batch) => Promise<Appended>;
  /**
   * The log of one class behind a sequence number, 0 where it is left out; and behind every append that
   * was asked for before, also one whose answer was "unknown". Rejects where it cannot be read.
   */
  readonly log: (session: string, after?: number) => Promise<readonly Row[]>;
  /** The log of the newest class of a room, and of one that is known only what comes behind; empty where there is nothing. */
  readonly latest: (room: string, known?: Known | null) => Promise<readonly Row[]>;
  /** Writes down how a class ended that nobody ended. Whether it is stored. */
  readonly close: (summary: ClassSummary) => Promise<boolean>;
  /** Newest first. `before` is what the last page said. */
  readonly classes: (before: number | null, limit: number) => Promise<ClassPage>;
}

/** A log that was read, but holds what no event of this version is. The other classes are as good as ever. */
export class NotUnderstood extends Error {}
