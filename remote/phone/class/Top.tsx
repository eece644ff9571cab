/** Owns the top line: which room this is, who is here, and what is wrong with the connection. */
import type { Room } from '../../../shared/link/types.ts';
import type { Session } from '../../../shared/session/session.ts';
import { HEAD_COUNT_MAX } from '../../../shared/limits.ts';
import type { Taps } from '../hooks/use-taps.ts';
import { linkWords } from './link-words.ts';
import { RoomName } from '../../common/RoomName.tsx';
import { Edge } from '../../../shared/ui/Edge.tsx';

interface Props {
  readonly room: Room;
  readonly session: Session;
  readonly taps: Taps;
  readonly onMore: () => void;
}

export function Top({ room, session, taps, onMore }: Props) {
  const n = session.headCount ?? 0;
  const trouble = linkWords(room.link);
  return (
    <header className="top">
      <div className="top-line">
        <RoomName name={room.about?.room.name ?? ''} />
        <button
          type="button"
          className="heads"
          aria-label={`${n} here. One more.`}
          data-state={taps.sending.has('heads') ? 'sending' : 'ready'}
          disabled={n >= HEAD_COUNT_MAX}
          onClick={() => void taps.tap('heads', { type: 'head-count', n: n + 1 })}
        >
          <span>{n} here</span><span className="plus">+1</span>
        </button>
        <button type="button" className="more" onClick={onMore}>More</button>
      </div>
      <Edge pattern={room.about?.room.pattern ?? 0} />
      {trouble && <p className="trouble" role="status">{trouble}</p>}
    </header>
  );
}
