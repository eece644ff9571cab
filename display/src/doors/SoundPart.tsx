/** Owns what the doors say of the sound: that the browser waits for a touch, or how loud it is, and a test of every signal. */
import { useState } from 'react';
import type { Sound, SoundNow } from '../../../shared/sound/engine.ts';
import { Delay } from './Delay.tsx';
import { VoicePart } from './VoicePart.tsx';
import { type SoundSettings, volumeSteps } from '../../../shared/sound/settings.ts';
import { useLanguage } from '../../../shared/ui/language.ts';

/** What the wall needs to know of its sound. */
export interface Heard extends Pick<SoundNow, 'state' | 'problem' | 'caption' | 'counts' | 'testing' | 'settings'> {
  readonly unlock: () => Promise<void>;
  readonly test: () => Promise<void>;
  readonly at: Sound['at'];
  readonly change: (settings: Partial<SoundSettings>) => void;
}

interface SoundPartProps {
  readonly sound: Heard;
  /** Goes on to the next language of this screen. */
  readonly onLanguage?: (by?: number) => void;
}

export function SoundPart({ sound, onLanguage }: SoundPartProps) {
  const { settings } = sound;
  const { sound: say, signal, doors } = useLanguage().say;
  const [delay, setDelay] = useState(false);
  if (sound.problem !== null) return <p className="sound-says" role="status">{sound.problem}</p>;
  if (sound.state === 'locked') {
    return <button type="button" className="sound-says strong" onClick={() => void sound.unlock()}>{say.isOff}</button>;
  }
  const step = volumeSteps.findIndex((v) => v.id === settings.volume);
  const next = volumeSteps[(step + 1) % volumeSteps.length];
  return (
    <div className="sound-part">
      <button type="button" className="sound-says" disabled={sound.state !== 'on'} onClick={() => void sound.test()}>
        {sound.testing === null ? say.test : signal.named[sound.testing]}
      </button>
      <button type="button" className="sound-says" title={say.loudness} onClick={() => next && sound.change({ volume: next.id })}>
        {say.volume[settings.volume]}
      </button>
      <button type="button" className="sound-says" disabled={sound.state !== 'on'} onClick={() => setDelay(true)}>{say.inTime}</button>
      <VoicePart sound={sound} />
      {onLanguage && <button type="button" className="sound-says" onClick={() => onLanguage()}>{doors.language}</button>}
      {delay && <Delay sound={sound} onClose={() => setDelay(false)} />}
    </div>
  );
}
