/**
 * Owns a disk that outlives its server: one worker in front of it, which may stall,
 * fail, or lose its answer. What was not committed when the process ended is gone.
 * What is kept, and what makes an append fail, is the real keeper in memory.
 */
import { memoryStore } from '../../server/core/memory-store.ts';
import type { TimeMark } from '../../server/core/server-time.ts';
import type { Appended, Batch, Row, Store } from '../../server/core/store.ts';
import { type Chance, longTailed, spread } from './chance.ts';
import type { VirtualTime } from './virtual-time.ts';

/** What the next writes come to. */
export type Fault = 'fails' | 'unknown-kept' | 'unknown-lost';

export class Disk {
  mark: TimeMark | null = null;
  /** Everything committed, in order: session, then rows. */
  readonly logs = new Map<string, Row[]>();
  newest: string | null = null;
  readonly faults: Fault[] = [];
  unreadable = 0;
  stalledUntil = 0;
  private busyUntil = 0;
  private readonly kept = memoryStore();
  private readonly time: VirtualTime;
  private readonly chance: Chance;
  /** Told of each batch at the instant of its commit. */
  committed: (batch: Batch) => void = () => {};

  constructor(time: VirtualTime, chance: Chance) {
    this.time = time;
    this.chance = chance;
  }

  /** The row that a command left, if it left one. */
  rowOf(command: string): Row | null {
    for (const rows of this.logs.values()) {
      const row = rows.find((r) => r.command === command);
      if (row) return row;
    }
    return null;
  }
  latest(): readonly Row[] {
    return this.newest === null ? [] : (this.logs.get(this.newest) ?? []);
  }
  /** The process is gone, and with it what waited in its worker. */
  restarted(): void {
    this.busyUntil = this.time.now;
  }

  /** The store as one process sees it; after that process nothing of it goes on. */
  store(alive: () => boolean): Store {
    const { time, chance } = this;
    /** One after the other: work at the disk, then the way back to the process. */
    const queued = <T>(work: () => Promise<T>): Promise<T> => new Promise((resolve, reject) => {
      const from = Math.max(time.now, this.busyUntil, this.stalledUntil);
      const doneAt = from + Math.min(60, longTailed(chance, 0.4, 0.8));
      this.busyUntil = doneAt;
      time.at(doneAt, () => {
        if (!alive()) return;
        const backMs = spread(chance, 0.05, 1);
        void work().then(
          (answer) => time.after(backMs, () => { if (alive()) resolve(answer); }),
          (error: unknown) => time.after(backMs, () => { if (alive()) reject(error); }),
        );
      });
    });
    return {
      append: (batch) => queued(() => this.append(batch)),
      log: (session) => queued(async () => {
        if (this.unreadable > 0) {
          this.unreadable -= 1;
          throw new Error('the disk does not answer');
        }
        return this.kept.log(session);
      }),
      latest: (room) => queued(() => this.kept.latest(room)),
      close: (summary) => queued(() => this.kept.close(summary)),
      classes: (before, limit) => queued(() => this.kept.classes(before, limit)),
    };
  }

  private async append(batch: Batch): Promise<Appended> {
    const fault = this.faults.shift();
    if (fault === 'fails') return 'failed';
    if (fault === 'unknown-lost') return 'unknown';
    const outcome = await this.kept.append(batch);
    if (outcome === 'stored') {
      const rows = this.logs.get(batch.summary.id) ?? [];
      rows.push(...batch.events.map((event, i) => ({ seq: batch.seq + i, command: batch.command, event })));
      this.logs.set(batch.summary.id, rows);
      if (rows.length === batch.events.length) this.newest = batch.summary.id;
      this.committed(batch);
    }
    return fault === 'unknown-kept' ? 'unknown' : outcome;
  }
}
