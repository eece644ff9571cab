/**
 * Owns which picture the wall shows: doors open, the class, or why there is
 * neither yet. Leaves alone what each of them looks like.
 */
import type { Room } from '../../shared/link/types.ts';
import type { Library } from '../../shared/movement/movement.ts';
import { ClassWall } from './class/ClassWall.tsx';
import { Doors } from './doors/Doors.tsx';
import { Waiting } from './doors/Waiting.tsx';
import { useAlone } from './use-alone.ts';
import { usePicture } from './use-unit.ts';
import '../../shared/ui/custom-properties.ts';
import './wall.css';

interface WallProps {
  readonly room: Room;
  readonly library: Library;
  readonly overscan: boolean;
}

export function Wall({ room, library, overscan }: WallProps) {
  const { unit, upright } = usePicture(overscan);
  const alone = useAlone(room.link);
  return (
    <main
      className="wall"
      data-upright={upright || undefined}
      data-overscan={overscan || undefined}
      style={{ '--u': `${unit}px` }}
    >
      {room.about === null || room.link.state === 'refused' ? (
        <Waiting link={room.link} unit={unit} />
      ) : room.session === null ? (
        <Doors about={room.about} alone={alone} unit={unit} />
      ) : (
        <ClassWall key={room.session.id} room={room} session={room.session} about={room.about} library={library} alone={alone} unit={unit} />
      )}
    </main>
  );
}
