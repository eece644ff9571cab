/** Owns all rooms as they are now: what runs, and when it will end. */
import { view } from '../../shared/view/view.ts';
import { words } from '../../shared/view/words.ts';
import type { Live } from '../../shared/wire/review.ts';
import type { Studio } from '../studio.ts';

export function liveOf({ settings, hall, clock }: Pick<Studio, 'settings' | 'hall' | 'clock'>): Live {
  const now = clock.now();
  return {
    studio: settings.studio, now,
    rooms: settings.rooms.map((room) => {
      const session = hall(room.id)?.core.session() ?? null;
      if (!session) return { ...room, class: null };
      const v = view(session, now);
      return {
        ...room,
        class: {
          id: session.id, name: session.plan.name, startedAt: session.startedAt, promisedAt: session.promisedAt, projectedAt: v.projectedAt,
          title: words(session, v).title, over: v.over !== null, paused: v.paused !== null,
        },
      };
    }),
  };
}
