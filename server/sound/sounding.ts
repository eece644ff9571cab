/**
 * Owns what is known of the sound of all rooms: which screens say that they are heard, by
 * connection, which of them plays the music, and what is played. Nothing of that is stored.
 * Leaves alone what a room wants (wants.ts) and how messages travel (sockets.ts).
 */
import type { Role } from '../../shared/wire/messages/join.ts';
import { type Hearing, type Play, type SoundOfRoom, type SoundReply, soundSaySchema } from '../../shared/wire/messages/sound.ts';
import type { Wants } from './wants.ts';

interface Said { readonly room: string; readonly what: Hearing; readonly name: string }

export interface Sounding {
  readonly of: (room: string) => SoundOfRoom;
  /** @param connection what the message came over; its role and room as it joined */
  readonly say: (connection: string, role: Role, room: string, message: unknown) => SoundReply;
  readonly gone: (connection: string) => void;
}

export interface SoundingNeeds {
  readonly wants: Wants;
  readonly hasMusic: () => boolean;
  /** Whether a sound that is no signal of the class would mislead the room just now. */
  readonly works: (room: string) => boolean;
  /** To all screens of a room. */
  readonly play: (room: string, message: Play) => void;
  /** The room should be told what is known by now. */
  readonly soon: (room: string) => void;
  readonly warn: (sentence: string) => void;
}

const notUnderstood: SoundReply = { sentence: 'This was not understood. Reload the page.' };

export function openSounding({ wants, hasMusic, works, play, soon, warn }: SoundingNeeds): Sounding {
  /** By connection, in the order in which they came. */
  const screens = new Map<string, Said>();
  const playing = new Map<string, { readonly by: string; readonly title: string }>();
  const broken = new Set<string>();

  const count = (room: string, what: Hearing): number => [...screens.values()].filter((s) => s.room === room && s.what === what).length;
  const playerOf = (room: string): string | null => [...screens.values()].find((s) => s.room === room && s.what === 'heard')?.name ?? null;
  const heard = (room: string): SoundReply => ({ screens: count(room, 'heard') });

  return {
    of: (room) => {
      const player = playerOf(room);
      const now = playing.get(room);
      return {
        wants: wants.of(room),
        screens: { heard: count(room, 'heard'), locked: count(room, 'locked'), silent: count(room, 'silent'), none: count(room, 'none') },
        player,
        playing: now && now.by === player ? now.title : null,
        hasMusic: hasMusic(),
      };
    },
    say(connection, role, room, message) {
      const parsed = soundSaySchema.safeParse(message);
      if (!parsed.success) return notUnderstood;
      const say = parsed.data;
      const ofScreen = say.do === 'hears' || say.do === 'playing' || say.do === 'broken';
      if (role !== (ofScreen ? 'screen' : 'phone')) return notUnderstood;
      const before = wants.of(room);
      switch (say.do) {
        case 'hears': screens.set(connection, { room, what: say.what, name: say.name }); break;
        case 'playing': {
          const name = screens.get(connection)?.name;
          if (name === undefined || name !== playerOf(room)) return heard(room);
          if (say.title === null) playing.delete(room);
          else playing.set(room, { by: name, title: say.title });
          break;
        }
        case 'broken':
          if (!broken.has(say.file) && broken.size < BROKEN_MOST) warn(`music: ${say.file.replaceAll(/\p{Cc}/gu, ' ')} cannot be played by the screen; it is skipped.`);
          broken.add(say.file);
          return heard(room);
        case 'place': wants.set(room, { ...before, from: say.from }); break;
        case 'music': {
          const given = Object.fromEntries(Object.entries(say.music).filter(([, value]) => value !== undefined));
          wants.set(room, { ...before, music: { ...before.music, ...given } });
          break;
        }
        case 'skip': play(room, { do: 'skip' }); return heard(room);
        case 'ring':
          if (works(room)) return { sentence: 'Somebody may be working. Try the sound before the class or in a pause.' };
          play(room, { do: 'ring', kind: say.kind });
          return heard(room);
      }
      soon(room);
      return heard(room);
    },
    gone(connection) {
      const said = screens.get(connection);
      screens.delete(connection);
      if (said) soon(said.room);
    },
  };
}

/** Files that the log names; more is a screen that can play nothing. */
const BROKEN_MOST = 200;
