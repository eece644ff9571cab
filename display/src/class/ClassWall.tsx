/** Owns the wall during a class: the clock that it follows, the big key, and what stands in its corner. Scene.tsx draws it. */
import { useCallback, useMemo, useRef } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import type { Session } from '../../../shared/session/session.ts';
import { AskEffort } from '../after/AskEffort.tsx';
import { useLanguage } from '../../../shared/ui/language.ts';
import { shareOfFloor, walk } from '../../../shared/ui/Floor.tsx';
import { sink } from '../../../shared/ui/Tide.tsx';
import { Scene } from '../../../shared/ui/wall/Scene.tsx';
import { floorOf } from '../../../shared/view/floor.ts';
import type { View } from '../../../shared/view/view.ts';
import { words } from '../../../shared/view/words.ts';
import type { Heard } from '../doors/SoundPart.tsx';
import { AskPhone } from '../stop/AskPhone.tsx';
import '../stop/stop.css';
import { useBigKey } from '../use-big-key.ts';
import { useView } from '../use-frames.ts';

interface ClassWallProps {
  readonly room: Room;
  readonly session: Session;
  readonly about: NonNullable<Room['about']>;
  readonly library: Library;
  readonly alone: boolean;
  readonly sound: Heard;
}

export function ClassWall({ room, session, about, library, alone, sound }: ClassWallProps) {
  const language = useLanguage();
  const tide = useRef<HTMLDivElement>(null);
  const notch = useRef<HTMLDivElement>(null);
  const floor = useMemo(() => floorOf(session), [session]);
  const paint = useCallback((v: View) => {
    sink(tide.current, v.share);
    walk(notch.current, placeOnFloor(floor, v));
  }, [floor]);
  const v = useView(session, room.now, paint);
  useBigKey(room, v);
  if (!v) return null;
  const w = words(session, v, language);
  return (
    <Scene
      session={session} view={v} words={w} corner={cornerOf(sound, v, w.corner, language.say.sound.offPressKey)} library={library} timeZone={about.studio.timeZone}
      alone={alone} now={room.now} tideRef={tide} notchRef={notch}
    >
      {about.people.asksForPhone && about.pairing && (v.paused !== null || v.waits) && <AskPhone pairing={about.pairing} />}
      <AskEffort session={session} view={v} url={about.pairing?.url ?? null} />
    </Scene>
  );
}

/** A class that is over has walked all of its floor. */
const placeOnFloor = (floor: ReturnType<typeof floorOf>, v: View): number =>
  v.phase === 'over' ? 1 : shareOfFloor(floor, v.floorMs);

/** What was just heard, for those who did not hear it; a count stands in the digits already. Before work: that nothing can be heard. */
function cornerOf(sound: Heard, v: View, corner: string, off: string): string {
  if (v.phase === 'talk' && sound.state === 'locked') return off;
  return sound.caption !== null && !sound.counts ? sound.caption : corner;
}
