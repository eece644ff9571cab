/**
 * Owns all rooms of all houses as they are now, from their logs: a class goes on by itself between two events of it, so
 * nothing has to be told. What was read of a class is kept and read on. A stop is a pause here: it is its own house's.
 */
import { LINGER_MS } from '../../shared/limits.ts';
import { type Event, eventSchema } from '../../shared/session/command.ts';
import { replay } from '../../shared/session/evolve.ts';
import { withoutStops } from '../../shared/session/without-stops.ts';
import { serverAt } from '../../shared/time/units.ts';
import type { AllLive } from '../../shared/wire/all.ts';
import type { LiveClass } from '../../shared/wire/review.ts';
import { classNow } from '../review/live.ts';
import { parsed } from '../store/log-store.ts';
import { type Told, toldBy } from './about.ts';
import type { Over } from './over.ts';

/** A house that nobody named rooms of has those in which a class was held lately. */
const LATELY_MS = 28 * 24 * 3_600_000;

interface Named { readonly id: string; readonly name: string }
interface Newest { readonly studio: string; readonly room: string; readonly id: string }

export function openLive(over: Over, houses: readonly Named[], timeZone: string) {
  const ids = houses.map((h) => h.id);
  /** What was read of the classes that are on, by house and class; no events where one of them is not understood. */
  let known = new Map<string, { readonly seq: number; readonly events: readonly Event[] | null }>();

  function classOf(key: string, now: number): LiveClass | null {
    try {
      const session = replay(withoutStops(known.get(key)?.events ?? []));
      const live = session && classNow(session, serverAt(now));
      return live?.over && live.projectedAt + LINGER_MS <= now ? null : live;
    } catch {
      // It cannot be read: its house says so itself.
      return null;
    }
  }

  async function look(now: number): Promise<{ told: ReadonlyMap<string, Told>; rooms: { studio: string; room: string }[]; on: Newest[] }> {
    return over.read(async (ask) => {
      const told = await toldBy(ask, ids);
      const rooms = await ask<{ studio: string; room: string }>('SELECT DISTINCT studio, room FROM sessions WHERE studio = ANY($1) AND startedAt > $2', ids, now - LATELY_MS);
      const on = await ask<Newest>(
        `SELECT DISTINCT ON (studio, room) studio, room, id FROM sessions WHERE studio = ANY($1) AND (endedAt IS NULL OR endedAt > $2) ORDER BY studio, room, number DESC`, ids, now - LINGER_MS,
      );
      const keys = on.map((c) => `${c.studio} ${c.id}`);
      const next = new Map(keys.map((key) => [key, known.get(key) ?? { seq: 0, events: [] }]));
      const rows = await ask<{ studio: string; session: string; seq: number; event: string }>(
        `SELECT e.studio, e.session, e.seq, e.event FROM unnest($1::text[], $2::text[], $3::bigint[]) c (studio, session, seq)
         JOIN events e ON e.studio = c.studio AND e.session = c.session AND e.seq > c.seq ORDER BY e.studio, e.session, e.seq`,
        on.map((c) => c.studio), on.map((c) => c.id), keys.map((key) => next.get(key)?.seq ?? 0),
      );
      for (const { studio, session, seq, event } of rows) {
        const key = `${studio} ${session}`;
        const read = eventSchema.safeParse(parsed(event));
        const events = next.get(key)?.events ?? null;
        // Copied, so that two who look at once do not read on into one list.
        next.set(key, { seq, events: events && read.success ? [...events, read.data] : null });
      }
      known = next;
      return { told, rooms, on };
    });
  }

  return async (now: number): Promise<AllLive> => {
    const { told, rooms, on } = await look(now);
    return {
      now: Math.floor(now),
      houses: houses.map(({ id, name }) => {
        const { about = null, heardAt = null } = told.get(id) ?? {};
        const named = about?.rooms ?? [];
        const others = [...new Set([...rooms, ...on].filter((r) => r.studio === id && !named.some((n) => n.id === r.room)).map((r) => r.room))].sort();
        return {
          id, name, timeZone: about?.timeZone ?? timeZone, heardAt,
          rooms: [...named, ...others.map((room, k) => ({ id: room, name: room, pattern: named.length + k }))].map((room) => {
            const newest = on.find((c) => c.studio === id && c.room === room.id);
            return { ...room, class: newest ? classOf(`${id} ${newest.id}`, now) : null };
          }),
        };
      }),
    };
  };
}
