/** Owns the other rooms of this phone: each one tap away, and a room that it does not know yet by the code on its screen. */
import { Edge } from '../../../shared/ui/Edge.tsx';
import { useRooms } from './hand.ts';

export function OtherRooms() {
  const { others, moveTo, pairAgain } = useRooms();
  return (
    <section className="rooms">
      <h3>Another room</h3>
      {others.map((room) => (
        <button key={room.id} type="button" className="room-to" onClick={() => moveTo(room)}><b>{room.name}</b><Edge pattern={room.pattern} /></button>
      ))}
      <button type="button" className="control" onClick={pairAgain}>Pair with another screen</button>
    </section>
  );
}
