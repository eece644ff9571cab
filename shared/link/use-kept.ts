/**
 * Owns the class that a screen last knew, kept on the screen itself: one that is loaded anew while the server
 * is away goes on counting it, by the device's wall clock and as the class last stood. What the server says
 * takes its place at once. Kept without the pairing code; read only by the build that wrote it.
 */
import { useCallback, useEffect, useMemo, useState } from 'react';
import { placeAt } from '../session/place.ts';
import type { Session } from '../session/session.ts';
import { between, type DeviceAt, serverAt } from '../time/units.ts';
import { deviceClock } from './device-clock.ts';
import type { Room } from './types.ts';

const KEY = 'hallclock.class';
/** Which build writes and reads it. */
const MADE = import.meta.url;

interface Written {
  readonly made: string;
  readonly room: string;
  readonly about: NonNullable<Room['about']>;
  readonly session: Session;
  readonly seq: number;
  /** The server's clock less the device's wall clock, milliseconds. */
  readonly offsetMs: number;
}
interface Kept { readonly about: NonNullable<Room['about']>; readonly session: Session; readonly seq: number; readonly now: Room['now'] }

function read(room: string): Kept | null {
  try {
    const written = JSON.parse(localStorage.getItem(KEY) ?? 'null') as Written | null;
    if (written?.made !== MADE || written.room !== room) return null;
    const from: DeviceAt = deviceClock.now();
    const wallMs = deviceClock.wallMs();
    const now = () => serverAt(Math.round(wallMs + written.offsetMs + between(from, deviceClock.now())));
    const { about, session, seq } = written;
    return placeAt(session, now()).over ? null : { about, session, seq, now };
  } catch {
    // No storage, or what is in it is not ours: the doors say that the studio is looked for.
    return null;
  }
}

function write(written: Written | null): void {
  try {
    if (written) localStorage.setItem(KEY, JSON.stringify(written));
    else localStorage.removeItem(KEY);
  } catch { /* it counts on all the same, until it is loaded anew */ }
}

/** @param roomId as the address names it */
export function useKept(room: Room, roomId: string): Room {
  const [kept] = useState(() => read(roomId));
  const { link, about, session, seq, now, onSession } = room;
  const known = now() !== null;
  // biome-ignore lint/correctness/useExhaustiveDependencies: written when the class changes, and once its clock is known
  useEffect(() => {
    const at = now();
    if (link.state !== 'live' || !about || at === null) return;
    write(session ? { made: MADE, room: roomId, about: { ...about, pairing: null }, session, seq, offsetMs: at - deviceClock.wallMs() } : null);
  }, [link.state, session, known, roomId]);
  const away = link.state === 'lost' || (link.state === 'connecting' && link.attempt > 1);
  const stands = kept !== null && about === null && away;
  const hear = useCallback<Room['onSession']>((listener) => {
    const stop = onSession(listener);
    if (kept) listener(kept.session, kept.seq);
    return stop;
  }, [onSession, kept]);
  return useMemo(() => {
    // The first moments with the server have no time of its own yet.
    const soon = kept ? { ...room, now: () => room.now() ?? kept.now() } : room;
    return stands ? { ...soon, about: kept.about, session: kept.session, seq: kept.seq, onSession: hear } : soon;
  }, [room, stands, kept, hear]);
}
