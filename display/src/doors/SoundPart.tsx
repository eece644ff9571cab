/** Owns what the doors say of the sound: that the browser waits for a touch, or how loud it is, and a test of every signal. */
import { useState } from 'react';
import type { Sound, SoundNow } from '../../../shared/sound/engine.ts';
import { Delay } from './Delay.tsx';
import { VoicePart } from './VoicePart.tsx';
import { loudnessHint, type SoundSettings, volumeSteps } from '../../../shared/sound/settings.ts';

/** What the wall needs to know of its sound. */
export interface Heard extends Pick<SoundNow, 'state' | 'problem' | 'caption' | 'testing' | 'settings'> {
  readonly unlock: () => Promise<void>;
  readonly test: () => Promise<void>;
  readonly at: Sound['at'];
  readonly change: (settings: Partial<SoundSettings>) => void;
}

export function SoundPart({ sound }: { sound: Heard }) {
  const { settings } = sound;
  const [delay, setDelay] = useState(false);
  if (sound.problem !== null) return <p className="sound-says" role="status">{sound.problem}</p>;
  if (sound.state === 'locked') {
    return <button type="button" className="sound-says strong" onClick={() => void sound.unlock()}>Sound is off. Press any key.</button>;
  }
  const step = volumeSteps.findIndex((v) => v.id === settings.volume);
  const next = volumeSteps[(step + 1) % volumeSteps.length];
  return (
    <div className="sound-part">
      <button type="button" className="sound-says" disabled={sound.state !== 'on'} onClick={() => void sound.test()}>
        {sound.testing === null ? 'Test the sound' : sound.testing.replaceAll('-', ' ')}
      </button>
      <button type="button" className="sound-says" title={loudnessHint} onClick={() => next && sound.change({ volume: next.id })}>
        {volumeSteps[step]?.name ?? ''}
      </button>
      <button type="button" className="sound-says" disabled={sound.state !== 'on'} onClick={() => setDelay(true)}>In time?</button>
      <VoicePart sound={sound} />
      {delay && <Delay sound={sound} onClose={() => setDelay(false)} />}
    </div>
  );
}
