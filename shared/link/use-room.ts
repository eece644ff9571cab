/**
 * Owns the React hook that gives a page its room, and noticing that the device
 * woke or that the network came back. One connection for each use.
 */
import { useEffect, useMemo, useSyncExternalStore } from 'react';
import type { Role } from '../wire/messages/join.ts';
import { deviceClock } from './device-clock.ts';
import { createLink } from './link.ts';
import { newId } from './new-id.ts';
import { openSocket } from './socket.ts';
import type { Room } from './types.ts';
import { watchWaking } from './waking.ts';

export function useRoom(role: Role, roomId: string): Room {
  const link = useMemo(() => createLink({ role, room: roomId, clock: deviceClock, open: openSocket(), newId }), [role, roomId]);
  useEffect(() => watchWaking(link.wake), [link]);
  return useSyncExternalStore(link.subscribe, link.room);
}
