/**
 * Owns the people of a simulated room: what phones say of who is here, handing a class
 * over, and what must hold of both. What is kept of it is the real server/people/people.ts.
 */
import { isDeepStrictEqual } from 'node:util';
import type { Room } from '../../shared/link/types.ts';
import type { Tell } from '../../shared/wire/messages/tell.ts';
import type { PressKind } from './story.ts';

/** Numbers that nothing else in a class has. */
const KNEES = 487;
const PREGNANT = 463;
const marked = new RegExp(`[:,[](${KNEES}|${PREGNANT})[,}\\]]|"(counts|here|late)":`);

/** What a press says beside the class, or that it takes it over with the code; null where it is a command. */
export function saysFor(what: PressKind, n: number): Tell | 'takes' | null {
  switch (what) {
    case 'here': return n % 2 === 0 ? { do: 'here', what: 'knee', n: KNEES } : { do: 'here', what: 'pregnancy', n: PREGNANT };
    case 'hand-over': case 'lead': return { do: what };
    case 'takes': return what;
    default: return null;
  }
}

/** Whether something that was written down holds what people said at the door, or who leads. */
export const tellsOfPeople = (written: unknown): boolean => marked.test(JSON.stringify(written));

interface Known { readonly here: unknown; readonly lead: string | null }

/**
 * What is wrong with what a device knows of the people; null where nothing is.
 * @param calm nothing has changed for so long that it must have heard of everything
 */
export function peopleHold(role: 'screen' | 'phone', name: string, room: Room, known: Known | null, calm: boolean): { rule: string; sentence: string } | null {
  const mine = room.about?.people;
  if (!mine) return null;
  if (role === 'screen') return mine.here === null && mine.lead === null ? null : { rule: 'R104', sentence: `${name} was told who is here` };
  if (!calm || !known) return null;
  if (room.about?.you !== name) return { rule: 'R103', sentence: `${name} was told that it is ${room.about?.you ?? 'nobody'}` };
  if (mine.lead !== known.lead) return { rule: 'R103', sentence: `${name} was not told that ${known.lead ?? 'nobody'} leads; it thinks ${mine.lead ?? 'nobody'}` };
  return isDeepStrictEqual(mine.here, known.here) ? null : { rule: 'R104', sentence: `${name} holds other counts than the server` };
}
