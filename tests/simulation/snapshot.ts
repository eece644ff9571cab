/** Owns what a simulated room tells a device beside the news, by its role, as server/people/beside.ts does. */
import type { StoppableCore } from '../../server/core/room-stop.ts';
import type { RoomPeople } from '../../server/people/people.ts';
import type { Role } from '../../shared/wire/messages/join.ts';
import type { Presence } from '../../shared/wire/messages/news.ts';
import { noPeople } from '../../shared/wire/messages/people.ts';
import type { Snapshot } from '../../shared/wire/messages/snapshot.ts';
import { noSound } from '../../shared/wire/messages/sound.ts';

export function presenceOf(core: StoppableCore, people: RoomPeople, role: Role): Presence {
  const phone = role === 'phone';
  const known = { ...noPeople, stop: core.beside(), here: phone ? people.here() : null, lead: phone ? people.lead() : null };
  return { pairing: null, chosen: null, present: { screens: 0, phones: 0 }, people: known, sound: noSound };
}

export function snapshotOf(core: StoppableCore, people: RoomPeople, role: Role, name: string | null = null): Snapshot {
  const log = core.log();
  return {
    room: { id: 'hall', name: 'Hall', pattern: 0 }, studio: { name: 'Studio', timeZone: 'UTC' }, version: '0',
    session: log && { id: log.id, events: [...log.events] }, ...presenceOf(core, people, role), you: role === 'phone' ? name : null,
  };
}
