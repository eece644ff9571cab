/** Owns what the phone says of the room's sound, in a sentence. */
import type { SoundOfRoom } from '../../../shared/wire/messages/sound.ts';

/** What is wrong with the sound of the screens, and what to do; null where nothing is, or no screen has said. */
export function screenTrouble({ wants, screens }: Pick<SoundOfRoom, 'wants' | 'screens'>): string | null {
  const { heard, locked, silent, none } = screens;
  if (wants.from === 'phone') return null;
  if (locked > 0) return heard > 0 ? 'One screen is silent: press a key on it.' : 'The screen is silent: press a key on it.';
  if (heard > 0) return null;
  if (silent > 0) return 'The screen is turned down to silent.';
  return none > 0 ? 'The screen has no sound.' : null;
}

/** Where the signals are heard, when all is well. @param alone no screen is there, and this phone leads */
export function soundWords(sound: Pick<SoundOfRoom, 'wants' | 'screens'>, alone = false): string {
  const { wants: { from }, screens } = sound;
  if (alone) return 'No screen is here: signals sound from this phone.';
  if (from === 'phone') return 'Signals sound from this phone.';
  const trouble = screenTrouble(sound);
  if (trouble !== null) return trouble;
  if (screens.heard === 0) return 'No screen has said yet whether it is heard.';
  return screens.heard === 1 ? 'The screen can be heard.' : `${screens.heard} screens can be heard.`;
}
