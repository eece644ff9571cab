/** Owns the line that the list of classes keeps of one class, and when a class will be over by itself. */
import { placeAt } from '../../shared/session/place.ts';
import type { Session } from '../../shared/session/session.ts';
import { type ServerAt, serverAt } from '../../shared/time/units.ts';
import type { ClassSummary } from '../../shared/wire/http.ts';

/** A class goes on, waits at most so long, or ends: asked about the end of time, it is always over. */
const END_OF_TIME = serverAt(Number.MAX_SAFE_INTEGER);

/** When and how a class is over if nobody commands anything any more. */
export function overAt(session: Session): NonNullable<Session['over']> {
  const { over } = placeAt(session, END_OF_TIME);
  if (!over) throw new Error(`a class that never ends: ${session.id}`);
  return over;
}

export function summaryOf(session: Session, at: ServerAt): ClassSummary {
  const { over } = placeAt(session, at);
  return {
    id: session.id,
    room: session.room,
    plan: session.plan.id,
    name: session.plan.name,
    startedAt: session.startedAt,
    endedAt: over?.at ?? null,
    how: over?.how ?? 'running',
    headCount: session.headCount,
  };
}
