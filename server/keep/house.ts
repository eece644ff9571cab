/** Owns what the server does for its log by itself: backups that are asked for, and deleting what is older than is kept. */
import { runs } from '../core/room.ts';
import type { Studio } from '../studio.ts';
import { answerBackups } from './request.ts';
import { keepRetaining } from './retain.ts';

/** @returns the way to stop */
export function keepHouse(studio: Studio): () => void {
  const { store, settings, clock, log, reviews } = studio;
  if (store.readOnly !== null) return () => {};
  const stops = [
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
