/** Owns the head of every page of the phone: which room this is, what is wrong with the connection, who needs a hand, Stop in the corner. */
import type { ReactNode } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { Edge } from '../../../shared/ui/Edge.tsx';
import { RoomName } from '../../common/RoomName.tsx';
import { linkWords } from '../class/link-words.ts';
import { LedElsewhere } from '../hand-over/LedElsewhere.tsx';
import { LowBattery } from '../hand-over/LowBattery.tsx';
import { StopButton } from '../stop/StopButton.tsx';
import { Elsewhere } from './Elsewhere.tsx';

interface Props {
  readonly room: Room;
  /** Off only where the room is stopped already. */
  readonly stop?: boolean;
  readonly onHandOver?: () => void;
  readonly children?: ReactNode;
}

export function Head({ room, stop = true, onHandOver, children }: Props) {
  const trouble = linkWords(room.link);
  return (
    <header className="top">
      <div className="top-line" data-stop={stop}>
        <RoomName name={room.about?.room.name ?? ''} />
        {children}
        {stop && <StopButton />}
      </div>
      <Edge pattern={room.about?.room.pattern ?? 0} />
      {trouble && <p className="trouble" role="status">{trouble}</p>}
      <Elsewhere calls={room.about?.people.elsewhere ?? []} />
      {stop && <LedElsewhere room={room} />}
      {stop && onHandOver && <LowBattery onHandOver={onHandOver} />}
    </header>
  );
}
