/** Owns which page the phone shows: pairing, choosing, the class, or what comes after. The server's truth decides. */
import { useCallback, useState } from 'react';
import type { Room } from '../../shared/link/types.ts';
import { useRoom } from '../../shared/link/use-room.ts';
import { type Library, useLibrary } from '../common/library.ts';
import { After } from './after/After.tsx';
import { Choose } from './choose/Choose.tsx';
import { ClassScreen } from './class/ClassScreen.tsx';
import { useInstant } from './hooks/use-instant.ts';
import { Pair } from './pairing/Pair.tsx';
import { rememberedRoom, rememberRoom } from './pairing/pairing.ts';
import { placeAt } from '../../shared/session/place.ts';
import { PhoneSoundProvider } from './sound/use-phone-sound.tsx';
import { Waiting } from './Waiting.tsx';

export function App({ code }: { code: string | null }) {
  const [roomId, setRoomId] = useState(code === null ? rememberedRoom() : null);
  const [why, setWhy] = useState<string | null>(null);
  const onPaired = useCallback((room: string) => {
    rememberRoom(room);
    setWhy(null);
    setRoomId(room);
  }, []);
  const onRefused = useCallback((sentence: string) => {
    rememberRoom(null);
    setWhy(sentence);
    setRoomId(null);
  }, []);
  if (roomId === null) return <Pair code={code} why={why} onPaired={onPaired} />;
  return <Joined roomId={roomId} onRefused={onRefused} />;
}

function Joined({ roomId, onRefused }: { roomId: string; onRefused: (sentence: string) => void }) {
  const room = useRoom('phone', roomId);
  const library = useLibrary(room.session?.id ?? null);
  if (room.link.state === 'refused' && room.link.reason.reason === 'not-allowed') {
    return <Waiting room={room} onPairAgain={() => onRefused(room.link.state === 'refused' ? room.link.reason.sentence : '')} />;
  }
  if (room.about === null) return <Waiting room={room} onPairAgain={() => onRefused('')} />;
  return <Pages room={room} library={library} />;
}

/** The page for a room as it stands; a class that is over stays until another is wanted. */
export function Pages({ room, library }: { room: Room; library: Library }) {
  const now = useInstant(room);
  const [left, setLeft] = useState<string | null>(null);
  const { session } = room;
  const page = () => {
    if (!session || session.id === left) return <Choose room={room} library={library} />;
    const { over } = placeAt(session, now ?? session.lastAt);
    if (over) return <After room={room} session={session} over={over} onAnother={() => setLeft(session.id)} />;
    return <ClassScreen key={session.id} room={room} session={session} library={library} />;
  };
  return <PhoneSoundProvider room={room} stopped={false}>{page()}</PhoneSoundProvider>;
}
