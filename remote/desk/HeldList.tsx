/** Owns the list of classes held: day, time, room, plan, how long, how it ended. */
import { serverAt } from '../../shared/time/units.ts';
import { clockTime, lengthWords } from '../../shared/view/words.ts';
import type { ClassesBody, ClassSummary } from '../../shared/wire/http.ts';
import { dayWords } from './day-words.ts';

const howWords: Record<ClassSummary['how'], string> = {
  ended: 'ended by hand', 'ran-out': 'ran to its end', forgotten: 'closed after two hours', running: 'running now',
};
const wholeMinutes = (ms: number): string => lengthWords(ms < 60_000 ? ms : Math.round(ms / 60_000) * 60_000);

interface Props { readonly classes: readonly ClassSummary[]; readonly rooms: ClassesBody['rooms']; readonly timeZone: string; readonly ready: boolean }

export function HeldList({ classes, rooms, timeZone, ready }: Props) {
  if (classes.length === 0) return ready ? <p className="quiet-words">No class has been held yet. The first one will be here as soon as it starts.</p> : null;
  return (
    <ul className="held">
      {classes.map((c) => (
        <li key={c.id}>
          <a href={`/desk?class=${encodeURIComponent(c.id)}`}>
            <span className="when"><b>{clockTime(serverAt(c.startedAt), timeZone)}</b> {dayWords(c.startedAt, timeZone)}</span>
            <span className="what"><b>{c.name}</b> {rooms.find((room) => room.id === c.room)?.name ?? c.room}</span>
            <span className="how">{c.endedAt === null ? '' : `${wholeMinutes(c.endedAt - c.startedAt)}, `}{howWords[c.how]}{c.headCount === null ? '' : `, ${c.headCount} here`}</span>
          </a>
        </li>
      ))}
    </ul>
  );
}
