/** Owns the one hook that screen and phone call for sound. */
import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import type { Room } from '../link/types.ts';
import type { Signal } from '../view/signal-kinds.ts';
import type { Language } from '../words/language.ts';
import { english } from '../words/languages.ts';
import type { Sound, Sounding, SoundNow } from './engine.ts';
import { defaults } from './settings.ts';

export interface UseSound extends SoundNow {
  /** From a click or a key press; browsers sound only after one. */
  readonly unlock: Sound['unlock'];
  /** Plays every signal, one after another, or one. */
  readonly test: Sound['test'];
  readonly at: Sound['at'];
  readonly change: Sound['change'];
}

export interface UseSoundOptions {
  /** Of a rehearsal; it stays the same function. */
  readonly rate?: () => number;
  /** Whether this device is to sound at all, and whether signals are to sound from it; both are so where left out. */
  readonly wanted?: boolean;
  readonly signals?: boolean;
  readonly given?: (signal: Signal) => void;
  readonly planned?: (sounds: readonly Sounding[]) => void;
  readonly language?: Language;
}

const silent: SoundNow = { state: 'off', problem: null, caption: null, counts: false, testing: null, settings: { ...defaults, volume: 'silent' } };
/** What makes the sound did not come: the network hiccups. */
const AGAIN_MS = 3_000;
const nothing = async (): Promise<void> => undefined;

/** @param pattern the room's edge pattern: each room has its own voice; null until it is known */
export function useSound(room: Room, pattern: number | null, options: UseSoundOptions = {}): UseSound {
  const [sound, setSound] = useState<Sound | null>(null);
  const { onSession } = room;
  const { rate, wanted = true, signals = true, language = english } = options;
  const latest = useRef({ room, options, wanted, signals, language });
  latest.current = { room, options, wanted, signals, language };
  useEffect(() => {
    if (pattern === null) return;
    let made: Sound | null = null;
    let again: ReturnType<typeof setTimeout> | undefined;
    let gone = false;
    // Loads apart, so that the page can be seen before it can be heard.
    const load = () => void import('./engine.ts').then(({ createSound }) => {
      if (gone) return;
      made = createSound(pattern, () => latest.current.room.now(), {
        ...(rate ? { rate } : {}),
        wanted: () => latest.current.wanted,
        signals: () => latest.current.signals,
        given: (signal) => latest.current.options.given?.(signal),
        planned: (sounds) => latest.current.options.planned?.(sounds),
        language: () => latest.current.language,
      });
      setSound(made);
    }).catch(() => {
      if (!gone) again = setTimeout(load, AGAIN_MS);
    });
    load();
    return () => {
      gone = true;
      clearTimeout(again);
      made?.close();
      setSound(null);
    };
  }, [pattern, rate]);
  // Not by way of the page: while that is drawn anew, what a command says would be late.
  useEffect(() => (sound ? onSession(sound.follow) : undefined), [sound, onSession]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked at again when it is wanted or no longer
  useEffect(() => { sound?.look(); }, [sound, wanted, signals]);
  const seen = useSyncExternalStore(sound?.subscribe ?? noStore, sound?.now ?? noSound);
  return { ...seen, unlock: sound?.unlock ?? nothing, test: sound?.test ?? nothing, at: sound?.at ?? nowhere, change: sound?.change ?? (() => undefined) };
}

const nowhere: Sound['at'] = () => () => undefined;
const noStore = () => () => undefined;
const noSound = () => silent;
