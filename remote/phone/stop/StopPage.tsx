/**
 * Owns the phone while the room is stopped: what it is about, and after that what helps.
 * It shows what this device holds, so it needs no network.
 */
import type { Session } from '../../../shared/session/session.ts';
import type { StopHere } from '../../../shared/link/use-stop.ts';
import { Head } from '../head/Head.tsx';
import { useWakeLock } from '../hooks/use-wake-lock.ts';
import { Ask } from './Ask.tsx';
import { Help } from './Help.tsx';
import { Out } from './Out.tsx';
import { sinceWords } from './since.ts';
import { WayBack } from './WayBack.tsx';

/** The head count as it was last known, with who came late; null where nobody counted. */
export const headsIn = (session: Session | null, people: { readonly here: { readonly heads: number | null } | null } | null): number | null =>
  session?.headCount ?? people?.here?.heads ?? null;

const titles = { ask: 'Stopped', help: 'Someone needs help', out: 'Everyone out' } as const;

export function StopPage({ stop }: { stop: StopHere }) {
  useWakeLock(true);
  const { now, room } = stop;
  if (!now || !room.about) return null;
  const { emergency } = room.about.people;
  const what = now.answer ?? 'ask';
  return (
    <main className="page stop-page" data-what={what}>
      <Head room={room} stop={false} />
      <div className="stop-top">
        <h2>{titles[what]}</h2>
        <p className="stop-since">{sinceWords(stop.lengthMs)}</p>
      </div>
      {stop.alone && <p className="stop-alone" role="status">The screen may not have heard. Say it aloud, or press S on its keyboard.</p>}
      {what === 'ask' && <Ask stop={stop} />}
      {what === 'help' && <Help stop={stop} emergency={emergency} />}
      {what === 'out' && <Out stop={stop} emergency={emergency} heads={headsIn(room.session, room.about.people)} />}
      {what !== 'ask' && <WayBack stop={stop} over={room.session === null} />}
    </main>
  );
}
