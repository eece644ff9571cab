/** Owns telling the old phone that another one runs the class now, and the way to take it back: at once for one that has led this class, with the code on the screen for every other. */
import { useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { useRooms } from '../rooms/hand.ts';

export function LedElsewhere({ room }: { room: Room }) {
  const [sentence, say] = useState<string | null>(null);
  const { pairAgain } = useRooms();
  const lead = room.about?.people.lead ?? null;
  if (lead === null || lead === room.about?.you) return null;
  const take = async () => {
    const told = await room.tell({ do: 'lead' });
    say('sentence' in told ? told.sentence : null);
  };
  return (
    <div className="head-note" role="status">
      <p>{sentence ?? <b>Another phone runs this class.</b>}</p>
      {sentence === null
        ? <button type="button" className="control" onClick={() => void take()}>Take it back</button>
        : <button type="button" className="control" onClick={pairAgain}>Type the code</button>}
    </div>
  );
}
