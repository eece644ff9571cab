/**
 * Owns which picture the wall shows: doors open, the class, or why there is
 * neither yet. Leaves alone what each of them looks like.
 */
import type { Room } from '../../shared/link/types.ts';
import type { Library } from '../../shared/movement/movement.ts';
import type { Plan } from '../../shared/plan/plan.ts';
import { ClassWall } from './class/ClassWall.tsx';
import { Doors } from './doors/Doors.tsx';
import { Waiting } from './doors/Waiting.tsx';
import type { Heard } from './doors/SoundPart.tsx';
import { useAlone } from './use-alone.ts';
import { PictureProvider, useMeasuredPicture } from '../../shared/ui/wall/picture.ts';
import '../../shared/ui/custom-properties.ts';
import './wall.css';

interface WallProps {
  readonly room: Room;
  readonly library: Library;
  readonly overscan: boolean;
  readonly sound: Heard;
  /** What a phone has laid out for the next class. */
  readonly plan: Plan | null;
}

export function Wall({ room, library, overscan, sound, plan }: WallProps) {
  const picture = useMeasuredPicture(overscan);
  const alone = useAlone(room.link);
  return (
    <PictureProvider value={picture}>
      <main
        className="wall"
        data-upright={picture.upright || undefined}
        data-overscan={overscan || undefined}
        style={{ '--u': `${picture.unit}px` }}
      >
        {room.about === null || room.link.state === 'refused' ? (
          <Waiting link={room.link} />
        ) : room.session === null ? (
          <Doors about={room.about} alone={alone} sound={sound} plan={plan} library={library} now={room.now} />
        ) : (
          <ClassWall key={room.session.id} room={room} session={room.session} about={room.about} library={library} alone={alone} sound={sound} />
        )}
      </main>
    </PictureProvider>
  );
}
