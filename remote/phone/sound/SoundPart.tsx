/** Owns the phone's part for sound: where the signals come from, whether they are heard, the buzz, and the music. */
import { useState } from 'react';
import { MUSIC_STEPS, type SoundFrom } from '../../../shared/wire/messages/sound.ts';
import { gainOf, volumeSteps } from '../../../shared/sound/settings.ts';
import { english } from '../../../shared/words/languages.ts';
import { soundWords } from './sound-words.ts';
import { type PhoneSound, usePhoneSound } from './use-phone-sound.tsx';
import './sound.css';

const places: readonly (readonly [SoundFrom, string])[] = [['screen', 'Screen'], ['phone', 'This phone'], ['both', 'Both']];

export function SoundPart() {
  const phone = usePhoneSound();
  const [said, setSaid] = useState<string | null>(null);
  if (!phone) return null;
  const { about, sound, room, buzzes, setBuzzes } = phone;
  const say = async (message: Parameters<typeof room.sound>[0]) => {
    const told = await room.sound(message);
    setSaid('sentence' in told ? told.sentence : null);
  };
  const { from } = about.wants;
  const here = from !== 'screen' || phone.alone;
  return (
    <>
      {said && <p className="sentence" role="alert">{said}</p>}
      <fieldset className="sheet-part sound-part">
        <legend>Signals sound from</legend>
        <div className="sound-row">
          {places.map(([id, name]) => (
            <button key={id} type="button" className="control" aria-pressed={from === id} onClick={() => void say({ do: 'place', from: id })}>{name}</button>
          ))}
        </div>
        <p role="status">{soundWords(about, phone.alone)}</p>
        {here && <Here phone={phone} />}
        {from !== 'phone' && !phone.alone && <button type="button" className="control" onClick={() => void say({ do: 'ring', kind: 'go' })}>Sound the screen now</button>}
      </fieldset>
      {buzzes !== null && (
        <button type="button" className="control" role="switch" aria-checked={buzzes} data-pressed={buzzes} onClick={() => setBuzzes(!buzzes)}>
          {buzzes ? 'This phone buzzes' : 'This phone does not buzz'}
        </button>
      )}
      {about.hasMusic && <MusicPart phone={phone} say={say} />}
      <p className="quiet-words">{english.say.sound.loudness}</p>
      {here && gainOf(sound.settings.volume) === 0 && <p className="sentence">This phone is turned down to silent.</p>}
    </>
  );
}

/** The phone's own sound, where it is wanted: locked until a touch, then how loud. */
function Here({ phone: { sound } }: { phone: PhoneSound }) {
  if (sound.problem !== null) return <p className="sentence" role="alert">{sound.problem}</p>;
  if (sound.state === 'locked') return <button type="button" className="control strong" onClick={() => void sound.unlock()}>This phone is silent: tap here</button>;
  const step = volumeSteps.findIndex((v) => v.id === sound.settings.volume);
  const next = volumeSteps[(step + 1) % volumeSteps.length];
  return (
    <div className="sound-row two">
      <button type="button" className="control" disabled={sound.state !== 'on'} onClick={() => void sound.test('go')}>Sound this phone</button>
      <button type="button" className="control" onClick={() => next && sound.change({ volume: next.id })}>Volume: {english.say.sound.volume[sound.settings.volume].toLowerCase()}</button>
    </div>
  );
}

interface MusicProps {
  readonly phone: PhoneSound;
  readonly say: (message: Parameters<PhoneSound['room']['sound']>[0]) => Promise<void>;
}

function MusicPart({ phone: { about }, say }: MusicProps) {
  const { on, order, volume, quietInShows } = about.wants.music;
  const set = (music: Partial<typeof about.wants.music>) => void say({ do: 'music', music });
  return (
    <fieldset className="sheet-part sound-part">
      <legend>Music</legend>
      {on && <p className="sound-title" role="status">{about.playing ?? (about.player === null ? 'Waits for a screen that can be heard.' : 'Choosing a track.')}</p>}
      <div className="sound-row two">
        <button type="button" className="control" aria-pressed={on} onClick={() => set({ on: !on })}>{on ? 'Music is on' : 'Music is off'}</button>
        <button type="button" className="control" disabled={!on} onClick={() => void say({ do: 'skip' })}>Next track</button>
      </div>
      <div className="stepper">
        <button type="button" className="control" aria-label="Music quieter" disabled={volume <= 0} onClick={() => set({ volume: volume - 1 })}>&minus;</button>
        <p className="sound-level" role="status">{volume === 0 ? 'Silent' : `${volume} of ${MUSIC_STEPS}`}</p>
        <button type="button" className="control" aria-label="Music louder" disabled={volume >= MUSIC_STEPS} onClick={() => set({ volume: volume + 1 })}>+</button>
      </div>
      <div className="sound-row two">
        <button type="button" className="control" onClick={() => set({ order: order === 'fixed' ? 'shuffled' : 'fixed' })}>{order === 'fixed' ? 'In order' : 'Shuffled'}</button>
        <button type="button" className="control" aria-pressed={quietInShows} onClick={() => set({ quietInShows: !quietInShows })}>Quiet while I show</button>
      </div>
    </fieldset>
  );
}
