/** Owns the small room on the phone: what the screen shows, for the hand that commands it. */
import { useRef } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import type { Session } from '../../../shared/session/session.ts';
import { Floor, shareOfFloor, walk } from '../../../shared/ui/Floor.tsx';
import { sink, Tide } from '../../../shared/ui/Tide.tsx';
import type { Floor as FloorPlan } from '../../../shared/view/floor.ts';
import { type View, view } from '../../../shared/view/view.ts';
import type { Words } from '../../../shared/view/words.ts';
import type { Library } from '../../common/library.ts';
import { useFrames } from '../hooks/use-frames.ts';
import { Body } from './Body.tsx';

interface Props {
  readonly room: Room;
  readonly session: Session;
  readonly v: View;
  readonly said: Words;
  readonly library: Library;
  readonly floor: FloorPlan;
  /** How much longer the class will take than the floor is ours; less than 0 is early. */
  readonly lateMs: number;
}

/** The word that takes the place of the seconds where nothing is counted. */
export function wordOf(v: View): string {
  if (v.moving) return 'Easy';
  if (v.paused) return 'Paused';
  if (v.phase === 'watch') return 'Watch';
  if (v.phase === 'talk') return 'Talk';
  if (v.waits) return 'On go';
  return v.interval?.prompts ? 'Follow me' : '';
}

function lineOf(v: View, said: Words): string {
  if (v.moving) return 'march on the spot';
  if (v.paused) return v.seconds === null ? '' : `${v.seconds} s left`;
  if (v.interval?.stations) return v.phase === 'work' ? '' : 'move round';
  return v.phase === 'rest' ? 'rest' : said.line;
}

export function Picture({ room, session, v, said, library, floor, lateMs }: Props) {
  const tide = useRef<HTMLDivElement>(null);
  const boards = useRef<HTMLDivElement>(null);
  const overrunMs = Math.max(0, lateMs);
  useFrames(() => {
    const now = room.now();
    if (now === null) return;
    const at = view(session, now);
    sink(tide.current, at.share);
    walk(boards.current, shareOfFloor(floor, at.floorMs, overrunMs));
  }, v.paused === null);
  return (
    <>
      <div className="picture" data-phase={v.phase} data-split={v.tide.left !== v.tide.right}>
        <Tide view={v} shareRef={tide} />
        <Body room={room} v={v} library={library} />
        <div className="count" data-side={v.side ?? 'right'} data-paused={v.paused !== null}>
          {!v.paused && v.seconds !== null ? <span className="digits">{v.seconds}</span> : <span className="word">{wordOf(v)}</span>}
          <span className="limb">{lineOf(v, said)}</span>
        </div>
      </div>
      <div className="floor-strip"><Floor floor={floor} atMs={v.floorMs} overrunMs={overrunMs} nowRef={boards} /></div>
    </>
  );
}
