/** Owns handing the way to another room to the pages that offer it. */
import { createContext, useContext } from 'react';
import type { Room } from '../../../shared/wire/messages/snapshot.ts';

export interface Rooms {
  readonly others: readonly Room[];
  readonly moveTo: (room: Room) => void;
  /** To pair with a screen that is not in the list. */
  readonly pairAgain: () => void;
  /** This phone was paired in this very moment: whoever holds it may be new to the class. */
  readonly justPaired: boolean;
}
const RoomsHand = createContext<Rooms>({ others: [], moveTo: () => undefined, pairAgain: () => undefined, justPaired: false });
export const RoomsAreHere = RoomsHand.Provider;
export const useRooms = (): Rooms => useContext(RoomsHand);
