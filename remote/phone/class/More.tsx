/** Owns the sheet for what is seldom needed: the head count by hand, a note, changes, and the end with its question. */
import { useState } from 'react';
import { NOTE_MAX } from '../../../shared/limits.ts';
import type { Session } from '../../../shared/session/session.ts';
import type { Taps } from '../hooks/use-taps.ts';
import { HeadCount } from './HeadCount.tsx';
import { Note } from './Note.tsx';
import { SoundLine } from '../sound/SoundLine.tsx';
import { Sheet } from './Sheet.tsx';

interface Props {
  readonly session: Session;
  readonly taps: Taps;
  readonly onChanges: () => void;
  readonly onClose: () => void;
}

export function More({ session, taps, onChanges, onClose }: Props) {
  const [ending, setEnding] = useState(false);
  return (
    <Sheet title={ending ? 'End the class?' : 'More'} sentence={taps.sentence} onClose={onClose}>
      {ending ? (
        <div className="sheet-part">
          <p>The screen says “Well done”, and what is left is not done. This cannot be taken back.</p>
          <button type="button" className="control strong" disabled={taps.sending.has('end')} onClick={() => void taps.tap('end', { type: 'end' })}>End the class</button>
          <button type="button" className="control" onClick={() => setEnding(false)}>Not yet</button>
        </div>
      ) : (
        <>
          <button type="button" className="control" onClick={onChanges}>Change the class</button>
          <SoundLine />
          <HeadCount session={session} taps={taps} />
          <Note taps={taps} most={NOTE_MAX} />
          <button type="button" className="control end" onClick={() => setEnding(true)}>End the class</button>
        </>
      )}
    </Sheet>
  );
}
