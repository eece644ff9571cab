/** Owns the first question at the door: is this the room whose class this phone would run? */
import { useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { Edge } from '../../../shared/ui/Edge.tsx';
import { OtherRooms } from '../rooms/OtherRooms.tsx';

export function RightRoom({ room, onFound }: { room: Room; onFound: (how: 'good' | 'bad') => void }) {
  const [wrong, setWrong] = useState(false);
  return (
    <>
      <h2>Does the screen show this name and this edge?</h2>
      <div className="door-room"><b>{room.about?.room.name}</b><Edge pattern={room.about?.room.pattern ?? 0} /></div>
      {wrong ? <OtherRooms /> : (
        <div className="yes-no">
          <button type="button" className="control strong" onClick={() => onFound('good')}>Yes</button>
          <button type="button" className="control" onClick={() => { setWrong(true); onFound('bad'); }}>No</button>
        </div>
      )}
    </>
  );
}
