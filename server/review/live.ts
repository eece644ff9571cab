/** Owns all rooms as they are now: what runs, how many are in it, and when it will end. */
import { view } from '../../shared/view/view.ts';
import { words } from '../../shared/view/words.ts';
import type { Session } from '../../shared/session/session.ts';
import type { ServerAt } from '../../shared/time/units.ts';
import type { Live, LiveClass } from '../../shared/wire/review.ts';
import type { Studio } from '../studio.ts';

export function liveOf({ settings, hall, clock }: Pick<Studio, 'settings' | 'hall' | 'clock'>): Live {
  const now = clock.now();
  return {
    studio: settings.studio, now,
    rooms: settings.rooms.map((room) => {
      const session = hall(room.id)?.core.session() ?? null;
      return { ...room, class: session && classNow(session, now) };
    }),
  };
}

/** One class as it is now. */
export function classNow(session: Session, now: ServerAt): LiveClass {
  const v = view(session, now);
  return {
    id: session.id, name: session.plan.name, startedAt: session.startedAt, promisedAt: session.promisedAt, projectedAt: v.projectedAt,
    headCount: session.headCount, title: words(session, v).title, over: v.over !== null, paused: v.paused !== null,
  };
}
