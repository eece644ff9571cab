/** Owns the sheet for what is seldom needed: the head count by hand, a note, and the end with its question. */
import { useEffect, useRef, useState } from 'react';
import { NOTE_MAX } from '../../../shared/limits.ts';
import type { Session } from '../../../shared/session/session.ts';
import type { Taps } from '../hooks/use-taps.ts';
import { HeadCount } from './HeadCount.tsx';
import { Note } from './Note.tsx';

interface Props {
  readonly session: Session;
  readonly taps: Taps;
  readonly onClose: () => void;
}

export function More({ session, taps, onClose }: Props) {
  const sheet = useRef<HTMLDialogElement>(null);
  const [ending, setEnding] = useState(false);
  useEffect(() => {
    const open = sheet.current;
    if (open && !open.open) open.showModal();
  }, []);
  return (
    <dialog ref={sheet} className="sheet" aria-label="More" onClose={onClose}>
      <div className="sheet-top">
        <h2>{ending ? 'End the class?' : 'More'}</h2>
        <button type="button" className="control" onClick={onClose}>Close</button>
      </div>
      {taps.sentence && <p className="sentence" role="alert">{taps.sentence}</p>}
      {ending ? (
        <div className="sheet-part">
          <p>The screen says “Well done”, and what is left is not done. This cannot be taken back.</p>
          <button type="button" className="control strong" disabled={taps.sending.has('end')} onClick={() => void taps.tap('end', { type: 'end' })}>End the class</button>
          <button type="button" className="control" onClick={() => setEnding(false)}>Not yet</button>
        </div>
      ) : (
        <>
          <HeadCount session={session} taps={taps} />
          <Note taps={taps} most={NOTE_MAX} />
          <button type="button" className="control end" onClick={() => setEnding(true)}>End the class</button>
        </>
      )}
    </dialog>
  );
}
