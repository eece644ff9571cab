/** Owns what one simulated process asks of the shared database: the keeper's promise and the board, as server/store/postgres.ts gives them. */
import type { Appended, Batch, Row, Store } from '../../server/core/store.ts';
import type { ChainStore } from '../../server/store/chain-store.ts';
import { type Base, type Ears, PATIENCE_MS, type Pending } from './base.ts';
import { type Chance, spread } from './chance.ts';

/** What the next append comes to: it fails; acts and its answer is lost; is lost; or acts when its asker has given up. */
export type BaseFault = 'fails' | 'unknown-kept' | 'unknown-lost' | 'unknown-late';
/** Questions of one append before its commit: begin, what is known, the line in the list, the events, the notice. */
const TRIPS = 5;
/** The latest that a commit which nobody waits for any more acts. */
const LATE_MOST_MS = 4_000;

export interface Line { readonly store: Store; readonly chain: Omit<ChainStore, 'heard'> }

/** @param faults of this server, next first @param unreadable gives whether this read fails @param mine do not hear what this process says */
export function lineTo(base: Base, server: number, chance: Chance, faults: BaseFault[], unreadable: () => boolean, mine: Ears): Line {
  const { time, kept, board } = base;
  const { alive } = mine;
  const ask = <T>(work: () => T | Promise<T>) => base.ask(alive, work);
  const waitMs = (ms: number) => new Promise<void>((resolve) => { time.after(ms, resolve); });
  /** Sessions of which an append of this process was not answered. */
  const unsure = new Set<string>();

  const conflict = ({ summary, command, seq }: Batch): Pending | undefined =>
    [...base.pending].find(({ batch: b }) => b.summary.id === summary.id || b.command === command || (seq === 1 && b.seq === 1 && b.summary.room === summary.room));
  /** Waits behind a lock; false where that takes too long. */
  const behind = async (find: () => Pending | undefined): Promise<boolean> => {
    const until = time.now + PATIENCE_MS;
    for (let pending = find(); pending; pending = find()) {
      await Promise.race([pending.over, waitMs(Math.max(0, until - time.now))]);
      if (time.now >= until) return false;
    }
    return true;
  };

  async function append(batch: Batch): Promise<Appended> {
    const fault = faults.shift();
    try {
      for (let n = 0; n < TRIPS; n += 1) await ask(() => undefined);
    } catch {
      return 'failed';
    }
    if (fault === 'fails' || !(await behind(() => conflict(batch))) || !alive() || !base.there) return 'failed';
    // What is taken is told; else the lock is held from here until the commit has acted or is gone.
    let end = () => {};
    const over = new Promise<void>((resolve) => { end = resolve; });
    const commit: Pending = { batch, over, end: () => { base.pending.delete(commit); end(); } };
    base.pending.add(commit);
    const act = async (): Promise<Appended | null> => {
      if (!base.pending.has(commit)) return null;
      // Its own server waits for the answer, all others for the notice.
      base.unsettled();
      const outcome = await kept.append(batch, server);
      commit.end();
      if (outcome === 'stored') base.tell(mine, (ears: Ears) => ears.grown(batch.summary.room));
      return outcome;
    };
    unsure.add(batch.summary.id);
    if (fault === 'unknown-late') {
      const goneMs = spread(chance, 0, PATIENCE_MS);
      time.after(goneMs + spread(chance, 0, LATE_MOST_MS), () => { void act(); });
      await waitMs(goneMs);
      return 'unknown';
    }
    if (fault === 'unknown-lost') {
      time.after(spread(chance, 0, PATIENCE_MS), commit.end);
      await waitMs(spread(chance, 0, PATIENCE_MS));
      return 'unknown';
    }
    const outcome = await ask(act).catch(() => null);
    if (outcome === null || fault === 'unknown-kept') return 'unknown';
    unsure.delete(batch.summary.id);
    return outcome;
  }

  const read = (work: () => Promise<readonly Row[]>): Promise<readonly Row[]> => ask(async () => {
    if (unreadable()) throw new Error('the database does not answer');
    return work();
  });
  const store: Store = {
    append: (batch) => new Promise((resolve) => { void append(batch).then((outcome) => { if (alive()) resolve(outcome); }); }),
    // Behind every append that was asked for before, also one that nobody answered.
    log: async (session, after) => {
      const before = () => [...base.pending].find((p) => p.batch.summary.id === session);
      if (unsure.has(session) && !(await behind(before))) throw new Error('an append before has not come to an end');
      return read(() => kept.store.log(session, after));
    },
    latest: (room, known) => read(() => kept.store.latest(room, known)),
    close: (summary) => ask(() => kept.store.close(summary)).catch(() => false),
    classes: (before, limit) => ask(() => kept.store.classes(before, limit)),
  };
  return {
    store,
    chain: {
      time: () => ask(() => base.told()),
      moveTime: (fromMs, toMs) => ask(() => base.moveTime(fromMs, toMs)),
      entries: (start) => ask(() => new Map([...board].filter(([entry]) => entry.startsWith(start)).sort(([a], [b]) => (a < b ? -1 : 1)))),
      put: (entry, value, before) => ask(() => {
        if (before !== undefined && (board.get(entry) ?? null) !== before) return false;
        board.set(entry, value);
        return true;
      }),
      take: (entry) => ask(() => {
        const value = board.get(entry) ?? null;
        board.delete(entry);
        return value;
      }),
      say: (text) => ask(() => base.tell(mine, (ears) => ears.said(text))),
    },
  };
}
