/** Owns the top line of a class: who is here, one more, and the way to what is seldom needed. */
import type { Room } from '../../../shared/link/types.ts';
import type { Session } from '../../../shared/session/session.ts';
import { HEAD_COUNT_MAX } from '../../../shared/limits.ts';
import { Head } from '../head/Head.tsx';
import type { Taps } from '../hooks/use-taps.ts';

interface Props {
  readonly room: Room;
  readonly session: Session;
  readonly taps: Taps;
  readonly onMore: () => void;
  readonly onHandOver: () => void;
}

export function Top({ room, session, taps, onMore, onHandOver }: Props) {
  const n = session.headCount ?? room.about?.people.here?.heads ?? 0;
  // Who comes late is stamped beside the class; how many they are stands in its log.
  const oneMore = () => {
    void taps.tap('heads', { type: 'head-count', n: n + 1 }).then((done) => { if (done) void room.tell({ do: 'late' }); });
  };
  return (
    <Head room={room} onHandOver={onHandOver}>
      <button
        type="button"
        className="heads"
        data-state={taps.sending.has('heads') ? 'sending' : 'ready'}
        disabled={n >= HEAD_COUNT_MAX}
        onClick={oneMore}
      >
        <span>{n}<i> here</i></span>{' '}<span className="plus">+1</span>
      </button>
      <button type="button" className="more" onClick={onMore}>More</button>
    </Head>
  );
}
