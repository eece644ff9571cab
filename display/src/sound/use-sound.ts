/** Owns the one hook that the screen calls for sound. */
import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { createSound, type Sound, type SoundNow } from './engine.ts';

export interface UseSound extends SoundNow {
  /** From a click or a key press; browsers sound only after one. */
  readonly unlock: Sound['unlock'];
  /** Plays every signal, one after another. */
  readonly test: Sound['test'];
  readonly change: Sound['change'];
}

const silent: SoundNow = {
  state: 'off', problem: null, caption: null, testing: null,
  settings: { volume: 'silent', correctionMs: 0, halfway: false, voice: false, voiceName: null },
};
const nothing = async (): Promise<void> => undefined;

/**
 * @param pattern the room's edge pattern: each room has its own voice; null until it is known
 * @param rate of a rehearsal; it stays the same function
 */
export function useSound(room: Room, pattern: number | null, rate?: () => number): UseSound {
  const [sound, setSound] = useState<Sound | null>(null);
  const { session, seq } = room;
  const latest = useRef(room);
  latest.current = room;
  useEffect(() => {
    if (pattern === null) return;
    const made = createSound(pattern, () => latest.current.now(), rate);
    setSound(made);
    return () => {
      made.close();
      setSound(null);
    };
  }, [pattern, rate]);
  useEffect(() => { sound?.follow(session, seq); }, [sound, session, seq]);
  const seen = useSyncExternalStore(sound?.subscribe ?? noStore, sound?.now ?? noSound);
  return { ...seen, unlock: sound?.unlock ?? nothing, test: sound?.test ?? nothing, change: sound?.change ?? (() => undefined) };
}

const noStore = () => () => undefined;
const noSound = () => silent;
