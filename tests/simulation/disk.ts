/**
 * Owns a disk that outlives its server: one worker in front of it, which may stall,
 * fail, or lose its answer. What was not committed when the process ended is gone.
 * What is kept, and what makes an append fail, is the real keeper in memory.
 */
import type { TimeMark } from '../../server/core/server-time.ts';
import type { Appended, Batch, Store } from '../../server/core/store.ts';
import { type Chance, longTailed, spread } from './chance.ts';
import { Kept } from './kept.ts';
import type { VirtualTime } from './virtual-time.ts';

/** What the next writes come to. */
export type Fault = 'fails' | 'unknown-kept' | 'unknown-lost';

export class Disk {
  mark: TimeMark | null = null;
  readonly kept = new Kept();
  readonly faults: Fault[] = [];
  unreadable = 0;
  stalledUntil = 0;
  private busyUntil = 0;
  private readonly time: VirtualTime;
  private readonly chance: Chance;

  constructor(time: VirtualTime, chance: Chance) {
    this.time = time;
    this.chance = chance;
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
      log: (session, after) => queued(async () => {
        if (this.unreadable > 0) {
          this.unreadable -= 1;
          throw new Error('the disk does not answer');
        }
        return this.kept.store.log(session, after);
      }),
      latest: (room, known) => queued(() => this.kept.store.latest(room, known)),
      close: (summary) => queued(() => this.kept.store.close(summary)),
      classes: (before, limit) => queued(() => this.kept.store.classes(before, limit)),
    };
  }

  private async append(batch: Batch): Promise<Appended> {
    const fault = this.faults.shift();
    if (fault === 'fails') return 'failed';
    if (fault === 'unknown-lost') return 'unknown';
    const outcome = await this.kept.append(batch, 0);
    return fault === 'unknown-kept' ? 'unknown' : outcome;
  }
}
