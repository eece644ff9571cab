/**
 * Owns what each device is told of the people of its room, and which other rooms need a
 * hand. Leaves alone what is kept of them (people.ts) and how it travels (sockets.ts).
 */
import { STOP_UNTOUCHED_MS } from '../../shared/limits.ts';
import { after, type ServerAt } from '../../shared/time/units.ts';
import type { People } from '../../shared/wire/messages/people.ts';
import type { Role } from '../../shared/wire/messages/join.ts';
import { type Told, tellSchema } from '../../shared/wire/messages/tell.ts';
import { stoppedFor } from '../core/room-stop.ts';
import type { Hall, Studio } from '../studio.ts';

export interface Beside {
  readonly of: (hall: Hall, role: Role) => People;
  readonly tell: (hall: Hall, message: unknown, phone: string) => Told;
  /** The class of a room changed, or its stop: whoever else must know is told, now and when time makes it so. */
  readonly changed: (hall: Hall) => void;
  /** When something changes by itself at the latest. */
  readonly nextAt: (hall: Hall) => ServerAt | null;
  readonly close: () => void;
}

/** @param handOver the code of a room, and where it is typed @param soon tells a room what it should know by now */
export function openBeside(studio: Studio, handOver: (hall: Hall) => { code: string; url: string; until: number }, soon: (room: string) => void): Beside {
  const { clock } = studio;
  /** By room: the stop that the others were told of. */
  const known = new Map<string, string>();
  const waiting = new Map<string, () => void>();

  const elsewhere = (mine: string | null): People['elsewhere'] => studio.halls().flatMap(({ about, core }) => {
    const stop = about.id === mine ? null : stoppedFor(core, clock.now());
    return stop?.answer ? [{ room: about.id, name: about.name, pattern: about.pattern, what: stop.answer, since: stop.since }] : [];
  });

  function look(hall: Hall): void {
    const { id } = hall.about;
    waiting.get(id)?.();
    waiting.delete(id);
    const stop = stoppedFor(hall.core, clock.now());
    const now = stop?.answer ? `${stop.since} ${stop.answer}` : '';
    if (stop && !stop.answer) waiting.set(id, clock.timer(after(stop.since, STOP_UNTOUCHED_MS), () => look(hall)));
    if (now === (known.get(id) ?? '')) return;
    known.set(id, now);
    for (const { about } of studio.halls()) soon(about.id);
  }

  return {
    of: ({ about, core, people }, role) => {
      const now = clock.now();
      const screen = role === 'screen';
      return {
        emergency: studio.emergency.now(),
        stop: core.beside(),
        here: role === 'phone' ? people.here() : null,
        // A desk belongs to no room.
        elsewhere: screen ? [] : elsewhere(role === 'desk' ? null : about.id),
        lead: role === 'phone' ? people.lead() : null,
        picture: screen ? people.picture(now) : null,
        asksForPhone: screen && people.asksForPhone(core.session(), now),
      };
    },
    tell: (hall, message, phone) => {
      const parsed = tellSchema.safeParse(message);
      if (!parsed.success) return { sentence: 'That message was not understood. Reload the page.' };
      const now = clock.now();
      const { data } = parsed;
      if (data.do !== 'hand-over') return hall.people.tell(data, phone, now);
      hall.people.handOver(now);
      return { done: true, ...handOver(hall) };
    },
    changed: (hall) => {
      hall.people.follow(hall.core.session(), clock.now());
      look(hall);
    },
    nextAt: ({ people, core }) => people.nextAt(core.session(), clock.now()),
    close: () => { for (const callOff of waiting.values()) callOff(); },
  };
}
