/** Owns deleting what is older than the studio keeps: some classes at a time, and none while a class runs. */
import type { LogStore } from '../store/log-store.ts';

const DAY_MS = 86_400_000;
const EACH_TIME = 20;
const AGAIN_MS = 3_600_000;
/** The start has other things to do first. */
const FIRST_MS = 20_000;

export interface RetainNeeds {
  readonly store: Pick<LogStore, 'old' | 'remove'>;
  readonly keepDays: number;
  readonly now: () => number;
  readonly busy: () => boolean;
  /** Called with the ids that are gone. */
  readonly removed: (ids: readonly string[]) => void;
  readonly warn: (sentence: string) => void;
}

/** Deletes all of every class that ended longer ago than is kept; 0 days keeps everything. @returns how many */
export async function retain({ store, keepDays, now, busy, removed }: RetainNeeds): Promise<number> {
  if (keepDays === 0) return 0;
  for (let gone = 0; ;) {
    if (busy()) return gone;
    const ids = await store.old(now() - keepDays * DAY_MS, EACH_TIME);
    if (ids.length === 0) return gone;
    const n = await store.remove(ids);
    if (!n) return gone;
    removed(ids);
    gone += n;
  }
}

/** @returns the way to stop */
export function keepRetaining(needs: RetainNeeds): () => void {
  const run = () => void retain(needs).catch((error: unknown) => needs.warn(`old classes could not be deleted: ${String(error)}`));
  const first = setTimeout(run, FIRST_MS);
  const each = setInterval(run, AGAIN_MS);
  first.unref();
  each.unref();
  return () => { clearTimeout(first); clearInterval(each); };
}
