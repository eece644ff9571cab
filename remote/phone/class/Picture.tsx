/** Owns the small room on the phone: what the screen shows, for the hand that commands it. */
import type { Room } from '../../../shared/link/types.ts';
import type { Session } from '../../../shared/session/session.ts';
import type { View } from '../../../shared/view/view.ts';
import type { Words } from '../../../shared/view/words.ts';
import { Body } from './Body.tsx';
import { Tide } from './Tide.tsx';

interface Props {
  readonly room: Room;
  readonly session: Session;
  readonly v: View;
  readonly said: Words;
}

/** The word that takes the place of the seconds where nothing is counted. */
function wordOf(v: View): string {
  if (v.paused) return 'Paused';
  if (v.phase === 'watch') return v.interval?.stations ? 'Show' : 'Watch';
  if (v.phase === 'talk') return 'Talk';
  if (v.waits) return 'On go';
  return v.interval?.prompts ? 'Follow me' : '';
}

function lineOf(v: View, said: Words): string {
  if (v.paused) return v.seconds === null ? '' : `${v.seconds} s left`;
  return v.phase === 'rest' ? 'Rest' : said.line;
}

export function Picture({ room, session, v, said }: Props) {
  const working = v.phase === 'work' && v.side;
  return (
    <div className="picture" data-phase={v.phase} data-side={working || 'none'}>
      <Tide room={room} v={v} />
      <Body session={session} v={v} />
      <div className="count" data-side={v.side ?? 'right'}>
        {!v.paused && v.seconds !== null
          ? <span className="digits" data-closing={v.closing || v.phase === 'count-in'}>{v.seconds}</span>
          : <span className="word">{wordOf(v)}</span>}
        <span className="limb">{lineOf(v, said)}</span>
      </div>
    </div>
  );
}
