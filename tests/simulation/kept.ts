/** Owns what is kept for good in a simulated world, whoever wrote it: the real keeper in memory, and everything that was committed, in order. */
import { memoryStore } from '../../server/core/memory-store.ts';
import type { Appended, Batch, Row } from '../../server/core/store.ts';

export class Kept {
  /** Everything committed, in order: session, then rows. */
  readonly logs = new Map<string, Row[]>();
  readonly store = memoryStore();
  newest: string | null = null;
  /** Told of each batch at the instant of its commit, and which server wrote it. */
  committed: (batch: Batch, by: number) => void = () => {};

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
  async append(batch: Batch, by: number): Promise<Appended> {
    const outcome = await this.store.append(batch);
    if (outcome === 'stored') {
      const rows = this.logs.get(batch.summary.id) ?? [];
      rows.push(...batch.events.map((event, i) => ({ seq: batch.seq + i, command: batch.command, event })));
      this.logs.set(batch.summary.id, rows);
      if (rows.length === batch.events.length) this.newest = batch.summary.id;
      this.committed(batch, by);
    }
    return outcome;
  }
}
