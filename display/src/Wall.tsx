/**
 * Owns which picture the wall shows: doors open, the class, or why there is
 * neither yet. Leaves alone what each of them looks like.
 */
import type { StopIn } from '../../shared/link/own-stop.ts';
import type { Room } from '../../shared/link/types.ts';
import type { Library } from '../../shared/movement/movement.ts';
import type { Plan } from '../../shared/plan/plan.ts';
import { placeAt } from '../../shared/session/place.ts';
import { ClassWall } from './class/ClassWall.tsx';
import { Doors } from './doors/Doors.tsx';
import { Waiting } from './doors/Waiting.tsx';
import type { Heard } from './doors/SoundPart.tsx';
import type { ByKeys } from './doors/use-choose-keys.ts';
import { DoorCheck } from './stop/DoorCheck.tsx';
import { StopWall } from './stop/StopWall.tsx';
import { useAlone } from './use-alone.ts';
import { useLanguage } from '../../shared/ui/language.ts';
import { scaleFor } from '../../shared/ui/wall/legibility.ts';
import { PictureProvider, useMeasuredPicture, wallProps } from '../../shared/ui/wall/picture.ts';
import { SetUp } from './set-up/SetUp.tsx';
import { useSetUpKey } from './set-up/use-set-up-key.ts';
import type { UseOwn } from './set-up/use-own.ts';
import '../../shared/ui/custom-properties.ts';
import './wall.css';

const noKeys: ByKeys = { plan: null, sentence: null };

const running = (room: Room): boolean => {
  const at = room.now();
  return room.session !== null && (at === null || placeAt(room.session, at).over === null);
};

interface WallProps {
  readonly room: Room;
  readonly library: Library;
  readonly own: UseOwn;
  /** The address asks for the set-up page. */
  readonly settingUp?: boolean;
  readonly sound: Heard;
  /** What a phone has laid out for the next class. */
  readonly plan: Plan | null;
  /** The room is stopped; null where it is not. */
  readonly stop?: StopIn | null;
  /** It was stopped with a key of this screen. */
  readonly keys?: boolean;
  /** What the keys at this screen laid out. */
  readonly byKeys?: ByKeys;
  /** Goes on to the next language; without it none is offered. */
  readonly onLanguage?: (by?: number) => void;
}

export function Wall({ room, library, own, settingUp = false, sound, plan, stop = null, keys = false, byKeys = noKeys, onLanguage }: WallProps) {
  const { overscan } = own.own;
  // What is read from near, and what must be said whole in a bad minute, keeps its size.
  const toAll = room.session !== null && byKeys.plan === null && !stop;
  const picture = useMeasuredPicture(overscan, toAll ? scaleFor(own.own) : 1);
  const language = useLanguage();
  const alone = useAlone(room.link);
  // Only while no class is on: nothing may cover one.
  const free = room.about !== null && room.link.state !== 'refused' && !stop && room.session === null && byKeys.plan === null && !room.about.people.picture;
  const [setUp, openSetUp] = useSetUpKey(settingUp, free);
  return (
    <PictureProvider value={picture}>
      <main {...wallProps(picture, overscan)} lang={language.tag} dir={language.direction}>
        {room.about === null || room.link.state === 'refused' ? (
          <Waiting link={room.link} />
        ) : stop ? (
          <StopWall stop={stop} emergency={room.about.people.emergency} keys={keys} />
        ) : room.about.people.picture && !running(room) ? (
          <DoorCheck picture={room.about.people.picture} />
        ) : room.session === null || byKeys.plan !== null ? (
          <Doors about={room.about} alone={alone} sound={sound} plan={plan} library={library} now={room.now} byKeys={byKeys} {...(onLanguage ? { onLanguage } : {})} />
        ) : (
          <ClassWall key={room.session.id} room={room} session={room.session} about={room.about} library={library} alone={alone} sound={sound} />
        )}
        {free && !setUp && <button type="button" className="set-up-open" onClick={() => openSetUp(true)}>{language.say.setUp.open}</button>}
        {setUp && <SetUp own={own} sound={sound} {...(onLanguage ? { onLanguage } : {})} onClose={() => openSetUp(false)} />}
      </main>
    </PictureProvider>
  );
}
