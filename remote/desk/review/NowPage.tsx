/** Owns all rooms as they are now: what runs, how far it is, and when it will end. */
import { useEffect, useState } from 'react';
import { serverAt } from '../../../shared/time/units.ts';
import { Edge } from '../../../shared/ui/Edge.tsx';
import { clockTime } from '../../../shared/view/words.ts';
import { type Live, liveSchema } from '../../../shared/wire/review.ts';
import { useGet } from '../../common/use-get.ts';
import { DeskNav } from './DeskNav.tsx';
import { count } from './say.ts';

const AGAIN_MS = 5_000;
const MINUTE_MS = 60_000;

export function NowPage() {
  const [got, again] = useGet('/api/live', liveSchema);
  const [live, keep] = useState<Live | null>(null);
  useEffect(() => {
    if (!got) return;
    if ('ok' in got) keep(got.ok);
    const timer = setTimeout(again, AGAIN_MS);
    return () => clearTimeout(timer);
  }, [got, again]);
  return (
    <main className="desk review-page">
      <DeskNav here="/desk?now" />
      <h1>All rooms now</h1>
      {got && 'problem' in got && <p className="sentence" role="alert">{got.problem}</p>}
      {!live && !got && <p className="quiet-words">One moment.</p>}
      {live && <ul className="now-rooms">{live.rooms.map((room) => <RoomNow key={room.id} room={room} now={live.now} timeZone={live.studio.timeZone} here />)}</ul>}
    </main>
  );
}

/** @param here whether it is a room of this studio, whose classes can be opened */
export function RoomNow({ room, now, timeZone, here }: { room: Live['rooms'][number]; now: number; timeZone: string; here: boolean }) {
  const { class: held } = room;
  const at = (ms: number) => clockTime(serverAt(ms), timeZone);
  return (
    <li>
      <Edge pattern={room.pattern} />
      <h2>{room.name}</h2>
      {held === null ? <p className="quiet-words">Nothing on.</p> : (
        <>
          <p className="now-title">{here ? <a href={`/desk?class=${encodeURIComponent(held.id)}`}>{held.name}</a> : held.name}</p>
          <p>{held.over ? 'Over' : held.title}</p>
          <Way from={held.startedAt} to={Math.max(held.projectedAt, held.promisedAt)} now={now} end={held.promisedAt} />
          <p>{at(held.startedAt)} to <b>{at(held.projectedAt)}</b>{held.over ? '' : againstWords(held.projectedAt - held.promisedAt, at(held.promisedAt))}</p>
          <p className="quiet-words">{held.over ? '' : `${Math.max(0, Math.floor((now - held.startedAt) / MINUTE_MS))} min in, `}{held.headCount === null ? 'heads not counted' : people(held.headCount)}</p>
        </>
      )}
    </li>
  );
}

const people = (n: number): string => count(n, 'person', 'people');
const againstWords = (byMs: number, promised: string): string =>
  Math.abs(byMs) < MINUTE_MS ? `, as promised` : `, ${Math.round(Math.abs(byMs) / MINUTE_MS)} min ${byMs > 0 ? 'after' : 'before'} the promised ${promised}`;

/** The class as a piece of floor: what is walked is dark, the post is the promised end. */
function Way({ from, to, now, end }: { from: number; to: number; now: number; end: number }) {
  const pct = (at: number) => `${Math.min(100, Math.max(0, ((at - from) / Math.max(1, to - from)) * 100))}%`;
  return <div className="now-way" aria-hidden="true"><i style={{ width: pct(now) }} /><b style={{ left: pct(end) }} /></div>;
}
