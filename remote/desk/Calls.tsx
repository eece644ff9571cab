/** Owns telling whoever sits at the desk, on every page of it and at once, which room needs a hand or is being left. */
import { useRoom } from '../../shared/link/use-room.ts';
import { Elsewhere } from '../phone/head/Elsewhere.tsx';
import '../phone/head/head.css';

/** A desk belongs to no room: it hears of all of them, over the connection of the first. */
export function Calls() {
  const { about } = useRoom('desk', '');
  return <div className="desk-calls"><Elsewhere calls={about?.people.elsewhere ?? []} /></div>;
}
