/** Owns choosing the class voice at the doors: none, or one that this browser has. Nothing is shown where it has none. */
import { useCallback, useSyncExternalStore } from 'react';
import { voicesHere, watchVoices } from '../../../shared/sound/voice.ts';
import { useLanguage } from '../../../shared/ui/language.ts';
import type { Heard } from './SoundPart.tsx';

export function VoicePart({ sound }: { sound: Heard }) {
  const { tag, say: { sound: say } } = useLanguage();
  const here = useCallback(() => voicesHere(tag), [tag]);
  const names = useSyncExternalStore(watchVoices, here).split('\n').filter((n) => n !== '');
  if (names.length === 0) return null;
  const { voice, voiceName } = sound.settings;
  const turn = voice ? names.indexOf(voiceName ?? '') : -1;
  const next = names[turn + 1];
  return (
    <button type="button" className="sound-says" onClick={() => sound.change({ voice: next !== undefined, voiceName: next ?? null })}>
      {voice ? say.voice(names[turn] ?? say.usualVoice) : say.noVoice}
    </button>
  );
}
