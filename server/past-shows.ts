/**
 * Owns what shows took in the studio's newest classes. The worker reads them one
 * class at a time, so that no command waits behind all of them, and each only when
 * its log has grown. Leaves alone what is made of the times (shared/session/learned.ts).
 */
import { CLASSES_LEARNED_MAX } from '../shared/limits.ts';
import type { ShowTime } from '../shared/session/learned.ts';
import type { LogStore } from './store/log-store.ts';

export interface PastShows {
  /** Of the newest classes. Where the log cannot be read, of those that were read before. */
  readonly times: () => Promise<readonly ShowTime[]>;
}

export function openPastShows(store: Pick<LogStore, 'newest' | 'shows'>, warn: (sentence: string) => void): PastShows {
  let known = new Map<string, { readonly seq: number; readonly times: readonly ShowTime[] }>();
  let reading: Promise<void> | null = null;

  async function read(): Promise<void> {
    const classes = await store.newest(CLASSES_LEARNED_MAX);
    const next: typeof known = new Map();
    for (const { id, seq } of classes) {
      const before = known.get(id);
      next.set(id, before?.seq === seq ? before : { seq, times: await store.shows(id) });
    }
    known = next;
  }

  return {
    times: async () => {
      reading ??= read()
        .catch((error: unknown) => warn(`what shows take could not be learned from the log: ${String(error)}`))
        .finally(() => { reading = null; });
      await reading;
      return [...known.values()].flatMap((c) => c.times);
    },
  };
}
