/** Owns the line before a class that says whether the signals are heard, and opens the sheet for sound. */
import { useState } from 'react';
import { Sheet } from '../class/Sheet.tsx';
import { SoundPart } from './SoundPart.tsx';
import { soundWords } from './sound-words.ts';
import { usePhoneSound } from './use-phone-sound.tsx';

export function SoundLine() {
  const phone = usePhoneSound();
  const [open, setOpen] = useState(false);
  if (!phone) return null;
  return (
    <>
      <div className="sound-line">
        <p role="status">{soundWords(phone.about, phone.alone)}</p>
        <button type="button" className="control" onClick={() => setOpen(true)}>Sound</button>
      </div>
      {open && <Sheet title="Sound" sentence={null} onClose={() => setOpen(false)}><SoundPart /></Sheet>}
    </>
  );
}
