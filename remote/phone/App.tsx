/** Owns which page the phone shows: pairing, a stop, choosing, the class, or what comes after. The server's truth decides. */
import { useCallback, useEffect, useMemo, useState } from 'react';
import type { Room } from '../../shared/link/types.ts';
import { useRoom } from '../../shared/link/use-room.ts';
import { useStop } from '../../shared/link/use-stop.ts';
import { placeAt } from '../../shared/session/place.ts';
import type { Room as RoomName } from '../../shared/wire/messages/snapshot.ts';
import { type Library, useLibrary } from '../common/library.ts';
import { After } from './after/After.tsx';
import { Choose } from './choose/Choose.tsx';
import { ClassScreen } from './class/ClassScreen.tsx';
import { useInstant } from './hooks/use-instant.ts';
import { Pair } from './pairing/Pair.tsx';
import { rememberedRoom, rememberRoom } from './pairing/pairing.ts';
import { Arrived } from './rooms/Arrived.tsx';
import { type Rooms, RoomsAreHere } from './rooms/hand.ts';
import { keepRooms, knownRooms, othersOf, withoutRoom, withRoom } from './rooms/rooms.ts';
import { StopIsHere } from './stop/hand.ts';
import { StopPage } from './stop/StopPage.tsx';
import { PhoneSoundProvider } from './sound/use-phone-sound.tsx';
import { Waiting } from './Waiting.tsx';

/** The room that is open, and how this phone came to it. */
interface At { readonly id: string; readonly by: 'code' | 'memory' | RoomName }

export function App({ code }: { code: string | null }) {
  const [at, setAt] = useState<At | null>(() => {
    const id = code === null ? rememberedRoom() : null;
    return id === null ? null : { id, by: 'memory' };
  });
  const [why, setWhy] = useState<string | null>(null);
  const goTo = useCallback((id: string, by: At['by']) => {
    rememberRoom(id);
    setWhy(null);
    setAt({ id, by });
  }, []);
  const onRefused = useCallback((sentence: string) => {
    rememberRoom(null);
    setWhy(sentence);
    setAt((was) => {
      if (was && sentence !== '') keepRooms(withoutRoom(knownRooms(), was.id));
      return null;
    });
  }, []);
  if (at === null) return <Pair code={code} why={why} onPaired={(id) => goTo(id, 'code')} />;
  // A key of its own: nothing that was on the page of one room is left on the page of another.
  return (
    <Arrived key={at.id} to={typeof at.by === 'object' ? at.by : null}>
      <Joined roomId={at.id} by={at.by} onMove={(room) => goTo(room.id, room)} onRefused={onRefused} />
    </Arrived>
  );
}

interface JoinedProps {
  readonly roomId: string;
  readonly by: At['by'];
  readonly onMove: (room: RoomName) => void;
  readonly onRefused: (sentence: string) => void;
}

function Joined({ roomId, by, onMove, onRefused }: JoinedProps) {
  const room = useRoom('phone', roomId);
  const library = useLibrary(room.session?.id ?? null);
  const name = room.about?.room ?? null;
  useEffect(() => { if (name) keepRooms(withRoom(knownRooms(), name)); }, [name]);
  const rooms = useMemo<Rooms>(
    () => ({ others: othersOf(knownRooms(), roomId), moveTo: onMove, pairAgain: () => onRefused(''), justPaired: by === 'code' }),
    [roomId, by, onMove, onRefused],
  );
  if (room.link.state === 'refused' && room.link.reason.reason === 'not-allowed') {
    return <Waiting room={room} onPairAgain={() => onRefused(room.link.state === 'refused' ? room.link.reason.sentence : '')} />;
  }
  if (room.about === null) return <Waiting room={room} onPairAgain={() => onRefused('')} />;
  return <RoomsAreHere value={rooms}><Pages room={room} library={library} /></RoomsAreHere>;
}

/** The page for a room as it stands; a stop goes before everything. A class that is over stays until another is wanted. */
export function Pages({ room: told, library }: { room: Room; library: Library }) {
  const stop = useStop(told);
  const { room } = stop;
  const now = useInstant(room);
  const [left, setLeft] = useState<string | null>(null);
  const { session } = room;
  const page = () => {
    if (stop.now) return <StopPage stop={stop} />;
    if (!session || session.id === left) return <Choose room={room} library={library} />;
    const { over } = placeAt(session, now ?? session.lastAt);
    if (over) return <After room={room} session={session} over={over} onAnother={() => setLeft(session.id)} />;
    return <ClassScreen key={session.id} room={room} session={session} library={library} />;
  };
  return <StopIsHere value={stop}><PhoneSoundProvider room={room} stopped={stop.now !== null}>{page()}</PhoneSoundProvider></StopIsHere>;
}
