/**
 * Owns the line under the floor: how the class stands to its end, the way to the
 * ways back as one whole target, taking back what was just taken, and a refusal.
 */
import type { Lateness } from '../../../shared/session/finish.ts';
import { offers } from '../../../shared/session/offers.ts';
import type { Session } from '../../../shared/session/session.ts';
import type { ServerAt } from '../../../shared/time/units.ts';
import { clockTime } from '../../../shared/view/words.ts';
import type { Taps } from '../hooks/use-taps.ts';
import { latenessWords } from './lateness.ts';

interface Props {
  readonly session: Session;
  readonly late: Lateness;
  readonly timeZone: string;
  readonly now: ServerAt;
  readonly taps: Taps;
  readonly onWays: () => void;
}

export function LateLine({ session, late, timeZone, now, taps, onWays }: Props) {
  const line = latenessWords(session, late, timeZone);
  const undo = session.change ? offers(session, now).undo : null;
  const asks = session.freeAt !== null && late.standing !== 'on-time';
  return (
    <div className="line" data-how={line.how}>
      {asks ? (
        <button type="button" className="line-asks" onClick={onWays}>
          <span><b>{line.words}</b><small>{line.detail}</small></span>
          <span className="line-ways">{late.standing === 'late' ? `Ways to end at ${clockTime(late.promisedAt, timeZone)}` : 'Use it'}&nbsp;›</span>
        </button>
      ) : <><b>{line.words}</b>{line.detail && <span>{line.detail}</span>}</>}
      {undo && <button type="button" className="line-undo" disabled={taps.sending.has('undo')} onClick={() => void taps.tap('undo', undo.command)}>Undo</button>}
      <div role="alert">{taps.sentence && <button type="button" className="sentence" onClick={() => taps.say(null)}>{taps.sentence}</button>}</div>
    </div>
  );
}
