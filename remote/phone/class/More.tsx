/** Owns the sheet for what is seldom needed: who is here, a note, changes, other phones and rooms, and the end with its question. */
import { useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { NOTE_MAX } from '../../../shared/limits.ts';
import type { Session } from '../../../shared/session/session.ts';
import type { Controls } from '../../../shared/view/controls.ts';
import { HereToday } from '../door/HereToday.tsx';
import type { Taps } from '../hooks/use-taps.ts';
import { OtherRooms } from '../rooms/OtherRooms.tsx';
import { Control } from './Control.tsx';
import { HeadCount } from './HeadCount.tsx';
import { Note } from './Note.tsx';
import { SoundLine } from '../sound/SoundLine.tsx';
import { Sheet } from './Sheet.tsx';

export type Page = 'changes' | 'hand-over' | 'cover' | 'sill';

interface Props {
  readonly room: Room;
  readonly session: Session;
  readonly can: Controls;
  readonly taps: Taps;
  /** Whether it opens with the question of ending. */
  readonly ends: boolean;
  readonly onPage: (page: Page) => void;
  readonly onClose: () => void;
}

export function More({ room, session, can, taps, ends, onPage, onClose }: Props) {
  const [ending, setEnding] = useState(ends);
  if (ending) {
    return (
      <Sheet title="End the class?" sentence={taps.sentence} onClose={onClose}>
        <div className="sheet-part">
          <p>The screen says “Well done”, and what is left is not done. This cannot be taken back.</p>
          <button type="button" className="control strong" disabled={taps.sending.has('end')} onClick={() => void taps.tap('end', { type: 'end' })}>End the class</button>
          <button type="button" className="control" onClick={() => setEnding(false)}>Not yet</button>
        </div>
      </Sheet>
    );
  }
  const people = room.about?.people;
  return (
    <Sheet title="More" sentence={taps.sentence} onClose={onClose}>
      <div className="sheet-part two">
        <button type="button" className="control" onClick={() => onPage('changes')}>Change the class</button>
        <button type="button" className="control end" onClick={() => setEnding(true)}>End the class</button>
        <Control name="less" command={can.less} taps={taps}>Ten less</Control>
        <button type="button" className="control" onClick={() => onPage('sill')}>Big digits</button>
        <button type="button" className="control" onClick={() => onPage('hand-over')}>Hand over</button>
        {session.plan.forCover && <button type="button" className="control" onClick={() => onPage('cover')}>Note for cover</button>}
      </div>
      <SoundLine />
      <HeadCount session={session} taps={taps} />
      <HereToday here={people?.here ?? null} tell={room.tell} />
      <Note taps={taps} most={NOTE_MAX} />
      <OtherRooms />
    </Sheet>
  );
}
