/** Owns the ways back to the promised end, and the ways to use spare time: each one tap, with what it costs in words. */
import { useMemo } from 'react';
import { lateness } from '../../../shared/session/finish.ts';
import type { Session } from '../../../shared/session/session.ts';
import { spare } from '../../../shared/session/spare.ts';
import { ways } from '../../../shared/session/ways.ts';
import type { ServerAt } from '../../../shared/time/units.ts';
import { spareWords, wayWords } from '../../../shared/view/way-words.ts';
import { clockTime } from '../../../shared/view/words.ts';
import type { Taps } from '../hooks/use-taps.ts';
import { Sheet } from './Sheet.tsx';

interface Props {
  readonly session: Session;
  /** The instant it was opened at; a way that is taken too late is refused and says so. */
  readonly at: ServerAt;
  readonly timeZone: string;
  readonly taps: Taps;
  readonly onClose: () => void;
}

const withSeconds = (timeZone: string) => (at: ServerAt): string =>
  new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', second: '2-digit', timeZone }).format(at);

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

export function Ways({ session, at, timeZone, taps, onClose }: Props) {
  const late = lateness(session, at).standing === 'late';
  const clock = withSeconds(timeZone);
  const offered = useMemo(
    () => late
      ? ways(session, at).map((way) => ({ command: way.command, words: wayWords(session, way, clock) }))
      : spare(session, at).map((use) => ({ command: use.command, words: spareWords(use, clock) })),
    [session, at, late, clock],
  );
  const promised = clockTime(session.promisedAt, timeZone);
  const take = async (command: (typeof offered)[number]['command']) => { if (await taps.tap('way', command)) onClose(); };
  return (
    <Sheet title={late ? `To end at ${promised}` : 'Time to spare'} sentence={taps.sentence} onClose={onClose}>
      {offered.length === 0 && <p>{late ? 'Nothing is left that could be cut. The class ends when it ends.' : 'Nothing to add that would still end in time.'}</p>}
      {offered.map(({ command, words }) => {
        const [head = '', rest = ''] = words.split(/: (.*)/s);
        return (
          <button key={words} type="button" className="control way" disabled={taps.sending.has('way')} onClick={() => void take(command)}>
            <b>{capital(head)}</b><span>{rest}</span>
          </button>
        );
      })}
      <p className="quiet-words">It can be taken back until something it changed has begun. The room never sees why.</p>
    </Sheet>
  );
}
