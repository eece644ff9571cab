/** Owns what the server does for its log by itself: backups that are asked for, and deleting what is older than is kept. */
import { runs } from '../core/room.ts';
import type { Studio } from '../studio.ts';
import { answerBackups } from './request.ts';
import { keepRetaining } from './retain.ts';

/** So long after its start the server reads what the review needs, in the review's own thread: the first page of the day then waits for nothing. */
const WARM_MS = 30_000;

/** @returns the way to stop */
export function keepHouse(studio: Studio): () => void {
  const { store, settings, clock, log, reviews } = studio;
  if (store.readOnly !== null) return () => {};
  const warm = setTimeout(() => {
    void reviews.upToDate(0).then(() => reviews.ask('many', { from: 0, to: 0 })).catch(() => {});
  }, WARM_MS);
  warm.unref();
  const stops = [
    () => clearTimeout(warm),
    answerBackups(settings.data, store, log.warn),
    keepRetaining({
      store, keepDays: settings.keepDays, now: clock.now, warn: log.warn,
      busy: () => settings.rooms.some((room) => runs(studio.hall(room.id)?.core.session() ?? null, clock.now())),
      // Records that nobody has asked for yet are brought up to the log when somebody does.
      removed: (ids) => { reviews.forget(ids); },
    }),
  ];
  return () => { for (const stop of stops) stop(); };
}
