/** Owns what a simulated server stands on: its clocks and its log, alone (alone.ts) or with others (chained.ts). */
import type { BesideStop, StoppableCore } from '../../server/core/room-stop.ts';
import type { Row, Store } from '../../server/core/store.ts';
import type { ServerAt } from '../../shared/time/units.ts';
import type { News } from '../../shared/wire/messages/news.ts';

/** What one process has under it. */
export interface Footing {
  /** The log of the room's newest class. */
  readonly rows: readonly Row[];
  readonly store: Store;
  /** The name of its clock, as devices hear it. */
  readonly clock: () => string;
  readonly exact: () => number;
  readonly timer: (at: ServerAt, run: () => void) => () => void;
  /** Where a stop beside the log is kept; left out where that is in memory alone. */
  readonly stops?: { readonly kept: BesideStop | null; readonly keep: (stop: BesideStop | null) => Promise<void> };
  /** Other servers may write to the log and are heard. */
  readonly shared: boolean;
  /** The room stands: what others say goes there from now on. */
  readonly opened: (core: StoppableCore) => void;
  /** What was decided here, on its quick way to the devices of others. */
  readonly toOthers: (news: News) => void;
}

export interface Ground {
  /** Calls once the process stands, at once or later; never if it is gone before. */
  readonly begin: (alive: () => boolean, stands: (footing: Footing) => void) => void;
  /** The process is gone; with `boot` the computer loses power. */
  readonly ended: () => void;
  readonly booted: () => void;
  /** Server time as this server tells it, or would. */
  readonly truth: () => number;
  /** Counts up whenever server time was set anew. */
  readonly epoch: () => number;
}
