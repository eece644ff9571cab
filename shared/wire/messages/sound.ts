/**
 * Owns what is said of a room's sound beside the class: whether its screens can be heard,
 * where the signals come from, and its music. Whether a screen is heard is known by its
 * connection and never stored; what the room wants is kept by the server, not in a log.
 */
import { z } from 'zod';
import { FILE_NAME_MAX } from '../../limits.ts';
import { signalKinds } from '../../view/signal-kinds.ts';

/** Heard: it sounds. Locked: its browser waits for a touch. Silent: somebody turned it down, or the sound comes from elsewhere. None: it has no sound. */
export const hearings = ['heard', 'locked', 'silent', 'none'] as const;
export type Hearing = (typeof hearings)[number];

export const soundFrom = ['screen', 'phone', 'both'] as const;
export type SoundFrom = (typeof soundFrom)[number];
export const musicOrders = ['shuffled', 'fixed'] as const;
/** Steps of the music's volume, 0 to this. */
export const MUSIC_STEPS = 10;

export const roomSoundSchema = z.strictObject({
  from: z.enum(soundFrom),
  music: z.strictObject({
    on: z.boolean(),
    order: z.enum(musicOrders),
    volume: z.int().min(0).max(MUSIC_STEPS),
    /** Whether it is quiet while something is shown, as it always is while paused. */
    quietInShows: z.boolean(),
  }),
});
export type RoomSound = z.infer<typeof roomSoundSchema>;
export const usualSound: RoomSound = { from: 'screen', music: { on: false, order: 'shuffled', volume: 6, quietInShows: true } };

const title = z.string().max(FILE_NAME_MAX);
/** What a device says of sound. A screen: hears, playing, broken. A phone: the rest. */
export const soundSaySchema = z.discriminatedUnion('do', [
  /** `name` is the page's own, made anew each time it is loaded; by it one screen of a room is chosen to play the music. */
  z.strictObject({ do: z.literal('hears'), what: z.enum(hearings), name: z.string().min(1).max(60) }),
  z.strictObject({ do: z.literal('playing'), title: title.nullable() }),
  z.strictObject({ do: z.literal('broken'), file: title }),
  z.strictObject({ do: z.literal('place'), from: z.enum(soundFrom) }),
  z.strictObject({ do: z.literal('music'), music: roomSoundSchema.shape.music.partial() }),
  z.strictObject({ do: z.literal('skip') }),
  /** Every screen of the room sounds one signal, so that somebody can listen whether it does. */
  z.strictObject({ do: z.literal('ring'), kind: z.enum(signalKinds) }),
]);
export type SoundSay = z.infer<typeof soundSaySchema>;

/** To the screens of a room. */
export const playSchema = z.discriminatedUnion('do', [
  z.strictObject({ do: z.literal('ring'), kind: z.enum(signalKinds) }),
  z.strictObject({ do: z.literal('skip') }),
]);
export type Play = z.infer<typeof playSchema>;

/** `screens`: how many of them can be heard just now. */
export const soundReplySchema = z.union([z.strictObject({ screens: z.int() }), z.strictObject({ sentence: z.string() })]);
export type SoundReply = z.infer<typeof soundReplySchema>;

export const soundSchema = z.strictObject({
  wants: roomSoundSchema,
  /** How many screens of the room say what of themselves; one that has said nothing yet is in none. */
  screens: z.strictObject({ heard: z.int(), locked: z.int(), silent: z.int(), none: z.int() }),
  /** The screen that plays the music, by its own name. */
  player: z.string().nullable(),
  /** What is played, by its file's name. */
  playing: title.nullable(),
  /** Whether the studio has music of its own. */
  hasMusic: z.boolean(),
});
export type SoundOfRoom = z.infer<typeof soundSchema>;
export const noSound: SoundOfRoom = {
  wants: usualSound, screens: { heard: 0, locked: 0, silent: 0, none: 0 }, player: null, playing: null, hasMusic: false,
};

/** What GET /api/music answers: files that really are music, in the order of their names. */
export const musicSchema = z.strictObject({ tracks: z.array(z.strictObject({ file: z.string(), title: z.string() })) });
export type MusicBody = z.infer<typeof musicSchema>;
