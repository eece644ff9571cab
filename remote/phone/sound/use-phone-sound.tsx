/**
 * Owns the sound of the phone: signals from it where the room wants them there, and a buzz
 * with each of them. One for the page; whoever shows something of it asks for it here.
 */
import { createContext, type ReactNode, useCallback, useContext, useEffect, useMemo, useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { buzz, canBuzz } from '../../../shared/sound/buzz.ts';
import { useSilence } from '../../../shared/sound/use-silence.ts';
import { useSound, type UseSound } from '../../../shared/sound/use-sound.ts';
import type { Signal } from '../../../shared/view/signal-kinds.ts';
import { noSound, type SoundOfRoom } from '../../../shared/wire/messages/sound.ts';

const KEY = 'hallclock.buzz';

export interface PhoneSound {
  readonly room: Room;
  readonly about: SoundOfRoom;
  readonly sound: UseSound;
  /** No screen is there, so the phone that leads gives the signals itself, whatever the room wants otherwise. */
  readonly alone: boolean;
  /** Null where this phone cannot. */
  readonly buzzes: boolean | null;
  readonly setBuzzes: (on: boolean) => void;
}

const Context = createContext<PhoneSound | null>(null);

function stored(): boolean {
  try {
    return localStorage.getItem(KEY) !== 'off';
  } catch {
    return true;
  }
}

/** @param stopped the room was stopped: nothing sounds and nothing buzzes */
export function PhoneSoundProvider({ room, stopped, children }: { room: Room; stopped: boolean; children: ReactNode }) {
  const [buzzes, set] = useState(stored);
  const setBuzzes = useCallback((on: boolean) => {
    set(on);
    if (on) buzz('go');
    try {
      localStorage.setItem(KEY, on ? 'on' : 'off');
    } catch {
      // Kept until the page is closed.
    }
  }, []);
  const about = room.about?.sound ?? noSound;
  const given = useCallback((signal: Signal) => { if (buzzes && !stopped) buzz(signal.kind); }, [buzzes, stopped]);
  const { lead = null } = room.about?.people ?? {};
  const alone = room.about?.present.screens === 0 && (lead === null || lead === room.about.you);
  const wanted = about.wants.from !== 'screen' || alone;
  const sound = useSound(room, room.about?.room.pattern ?? null, { wanted, signals: !stopped, given });
  useSilence(stopped);
  const { state, unlock } = sound;
  // Any touch cures a phone that its browser keeps silent.
  useEffect(() => {
    if (state !== 'locked') return;
    const onTouch = () => void unlock();
    window.addEventListener('pointerup', onTouch);
    return () => window.removeEventListener('pointerup', onTouch);
  }, [state, unlock]);
  const value = useMemo(() => ({ room, about, sound, alone, buzzes: canBuzz() ? buzzes : null, setBuzzes }), [room, about, sound, alone, buzzes, setBuzzes]);
  return <Context.Provider value={value}>{children}</Context.Provider>;
}

export const usePhoneSound = (): PhoneSound | null => useContext(Context);
