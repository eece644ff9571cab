/** Owns which rooms this phone was paired with, so that the next one is a tap away; the server decides what it may. */
import type { Room } from '../../../shared/wire/messages/snapshot.ts';
import { roomSchema } from '../../../shared/wire/messages/snapshot.ts';
import { z } from 'zod';

const KEY = 'hallclock-rooms';
/** More rooms than a studio has; the oldest goes. */
const MOST = 12;
const listSchema = z.array(roomSchema).max(MOST);

/** A room as it was last seen, at the end of the list. */
export const withRoom = (list: readonly Room[], room: Room): Room[] => [...list.filter((r) => r.id !== room.id), room].slice(-MOST);
export const withoutRoom = (list: readonly Room[], id: string): Room[] => list.filter((r) => r.id !== id);
/** The rooms beside this one, by name. */
export const othersOf = (list: readonly Room[], id: string): Room[] => withoutRoom(list, id).sort((a, b) => (a.name < b.name ? -1 : 1));

/** Private windows may have no storage; then there is only the room that is open. */
export function knownRooms(): Room[] {
  try {
    const read = listSchema.safeParse(JSON.parse(window.localStorage.getItem(KEY) ?? '[]'));
    return read.success ? read.data : [];
  } catch { return []; }
}

export function keepRooms(list: readonly Room[]): void {
  try { window.localStorage.setItem(KEY, JSON.stringify(list)); } catch { /* see above */ }
}
