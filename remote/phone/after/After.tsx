/** Owns the phone when the class is over: where the time went, a note, the head count, the log, the next one. */
import type { Room } from '../../../shared/link/types.ts';
import { NOTE_MAX } from '../../../shared/limits.ts';
import { ledger, unevenSides } from '../../../shared/session/ledger.ts';
import type { Session } from '../../../shared/session/session.ts';
import { between, type ServerAt } from '../../../shared/time/units.ts';
import { clockTime, lengthWords, movementName, sidePhrase } from '../../../shared/view/words.ts';
import { TimeBar } from '../../common/TimeBar.tsx';
import { HeadCount } from '../class/HeadCount.tsx';
import { Note } from '../class/Note.tsx';
import { Head } from '../head/Head.tsx';
import { useTaps } from '../hooks/use-taps.ts';

interface Props {
  readonly room: Room;
  readonly session: Session;
  readonly over: NonNullable<Session['over']>;
  readonly onAnother: () => void;
}

const howWords: Record<NonNullable<Session['over']>['how'], string> = {
  ended: 'You ended it.', 'ran-out': 'It ran to its end.', forgotten: 'Nobody carried on for two hours, so it was closed.',
};

/** "Reverse lunge: left leg back had 7 s less", for each movement whose sides stayed uneven. */
function unevenWords(session: Session, at: ServerAt): string[] {
  return unevenSides(session, at).map(({ pair, byMs }) => {
    const movement = session.intervals.find((i) => i.pair === pair)?.movement ?? null;
    return `${movementName(session, movement)}: ${sidePhrase(session, movement, byMs < 0 ? 'left' : 'right')} had ${lengthWords(Math.abs(byMs))} less`;
  });
}

export function After({ room, session, over, onAnother }: Props) {
  const taps = useTaps(room);
  const timeZone = room.about?.studio.timeZone ?? 'UTC';
  const byMs = session.freeAt === null ? 0 : between(session.freeAt, over.at);
  const promise = session.freeAt === null ? '' : byMs > 15_000 ? `, ${lengthWords(byMs)} after the floor had to be free` : ', and the floor was free in time';
  return (
    <main className="page after">
      <Head room={room} />
      <section className="page-body">
        <h2 className="well">{session.wasStopped ? 'The class is over' : 'Well done'}</h2>
        <p>{session.plan.name}, {clockTime(session.startedAt, timeZone)} to {clockTime(over.at, timeZone)}{promise}. {howWords[over.how]}</p>
        <h3>Where the time went</h3>
        <TimeBar accounts={ledger(session, over.at).accounts} />
        {unevenWords(session, over.at).map((words) => <p key={words} className="kept">{words}</p>)}
        {taps.sentence && <p className="sentence" role="alert">{taps.sentence}</p>}
        <HeadCount session={session} taps={taps} />
        {session.notes.map((note) => <p key={`${note.at}-${note.text}`} className="kept">{note.text}</p>)}
        <Note taps={taps} most={NOTE_MAX} />
        <a className="control" href={`/desk?class=${encodeURIComponent(session.id)}`}>Open the log</a>
      </section>
      <div className="foot"><button type="button" className="big" onClick={onAnother}><span className="big-word">Another class</span></button></div>
    </main>
  );
}
