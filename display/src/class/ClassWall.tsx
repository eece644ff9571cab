/** Owns the wall during a class: title, room, floor, and what comes next. It shows `view` and `words`, nothing else. */
import { useCallback, useMemo, useRef } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import type { Session } from '../../../shared/session/session.ts';
import { Floor, shareOfFloor } from '../../../shared/ui/Floor.tsx';
import { floorOf } from '../../../shared/view/floor.ts';
import type { View } from '../../../shared/view/view.ts';
import { words } from '../../../shared/view/words.ts';
import { Fit } from '../Fit.tsx';
import type { Heard } from '../doors/SoundPart.tsx';
import { useBigKey } from '../use-big-key.ts';
import { useView } from '../use-frames.ts';
import { Stage } from './Stage.tsx';
import { Under } from './Under.tsx';
import './class.css';
import './upright.css';

interface ClassWallProps {
  readonly room: Room;
  readonly session: Session;
  readonly about: NonNullable<Room['about']>;
  readonly library: Library;
  readonly alone: boolean;
  readonly sound: Heard;
}

export function ClassWall({ room, session, about, library, alone, sound }: ClassWallProps) {
  const tide = useRef<HTMLDivElement>(null);
  const notch = useRef<HTMLDivElement>(null);
  const floor = useMemo(() => floorOf(session), [session]);
  const paint = useCallback((v: View) => {
    tide.current?.style.setProperty('--share', String(v.share));
    notch.current?.style.setProperty('--now', String(placeOnFloor(floor, v)));
  }, [floor]);
  const v = useView(session, room.now, paint);
  useBigKey(room, v);
  if (!v) return null;
  const w = words(session, v);
  const over = v.phase === 'over';
  const corner = cornerOf(sound, v, w.corner);
  return (
    <div className="class" data-phase={v.phase} data-paused={v.paused !== null || undefined}>
      <header className="head">
        <Fit className="title" text={w.title} most={12} mostOnMore={8.4} lines={2} />
        {corner !== '' && <p className="corner">{corner}</p>}
      </header>
      <Stage session={session} view={v} words={w} library={library} now={room.now} tideRef={tide} />
      <div className="ground">
        <Floor floor={floor} atMs={over ? floor.lengthMs : v.floorMs} notch={!over} nowRef={notch} />
      </div>
      <Under session={session} view={v} words={w} library={library} timeZone={about.studio.timeZone} alone={alone} />
    </div>
  );
}

/** A class that is over has walked all of its floor. */
const placeOnFloor = (floor: ReturnType<typeof floorOf>, v: View): number =>
  v.phase === 'over' ? 1 : shareOfFloor(floor, v.floorMs);

/** What was just heard, for those who did not hear it; a count stands in the digits already. Before work: that nothing can be heard. */
function cornerOf(sound: Heard, v: View, corner: string): string {
  if (v.phase === 'talk' && sound.state === 'locked') return 'Sound off: press a key';
  return sound.caption !== null && !/^\d+$/.test(sound.caption) ? sound.caption : corner;
}
