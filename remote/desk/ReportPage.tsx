/** Owns the page of one class: what it came to, plan against fact, where we stopped, what was changed, where the time went. */
import type { Event } from '../../shared/session/command.ts';
import type { Session } from '../../shared/session/session.ts';
import { serverAt } from '../../shared/time/units.ts';
import type { Report } from '../../shared/view/report.ts';
import { changeWords, intervalWords, isChange, sidesName, sidesWords, stampsIn, standsFor } from '../../shared/view/report-words.ts';
import { clockTime, lengthWords } from '../../shared/view/words.ts';
import { TimeBar } from '../common/TimeBar.tsx';
import { dayWords } from './day-words.ts';
import { Floors } from './Floors.tsx';
import { InFigures } from './review/InFigures.tsx';
import { Replay } from './review/Replay.tsx';
import { TakeClass } from './review/TakeClass.tsx';
import { RowsTable } from './RowsTable.tsx';

const howWords: Record<NonNullable<Session['over']>['how'], string> = {
  ended: 'Ended by hand.', 'ran-out': 'Ran to its end.', forgotten: 'Nobody carried on for two hours, so it was closed.',
};
const ON_TIME_MS = 15_000;

function promiseWords({ session, lateMs }: Report, timeZone: string): string {
  const promised = clockTime(session.promisedAt, timeZone);
  const what = session.freeAt === null ? `The room was told ${promised}` : `The floor had to be free at ${promised}`;
  if (!session.over) return `${what}.`;
  if (Math.abs(lateMs) < ON_TIME_MS) return `${what}; it ended on time.`;
  return `${what}; it ended ${lengthWords(Math.abs(lateMs))} ${lateMs > 0 ? 'later' : 'earlier'}.`;
}

interface ReportPageProps { readonly report: Report; readonly events: readonly Event[]; readonly timeZone: string }

export function ReportPage({ report: r, events, timeZone }: ReportPageProps) {
  const { session } = r;
  const clock = (at: number) => clockTime(serverAt(at), timeZone);
  const stopped = events.some((e) => e.type === 'stopped');
  const uneven = r.sides.filter((s) => s.owed !== null);
  const even = r.sides.filter((s) => s.owed === null);
  const changes = r.changes.filter((c) => isChange(c.event));
  return (
    <article className="report">
      <header>
        <h1>{session.plan.name}</h1>
        <p>{dayWords(session.startedAt, timeZone)}, {clock(session.startedAt)} to {session.over ? clock(r.endAt) : 'now'}, {lengthWords(r.totalMs)}{session.headCount === null ? '' : `, ${session.headCount} here`}{session.instructor === null ? '' : `, taught by ${session.instructor}`}</p>
        <p>{promiseWords(r, timeZone)} {session.over ? howWords[session.over.how] : 'It still runs.'}</p>
      </header>
      <section>
        <h2>Plan and fact</h2>
        <Floors report={r} />
      </section>
      <Replay report={r} events={events} timeZone={timeZone} />
      <div className="two">
        <section>
          <h2>Where we stopped</h2>
          {r.pauses.length === 0 ? <p className="quiet-words">Nowhere.</p> : (
            <ul className="lines">
              {r.pauses.map((p) => (
                <li key={p.number}><time>{clock(p.at)}</time><span><b>{lengthWords(p.lengthMs)}</b>{p.runs ? ' so far' : ''}{standsFor(p)}, in {intervalWords(session, p.interval)}{stampsIn(r, p).map((c) => `; ${changeWords(r, c).toLowerCase()} ${clock(c.at)}`).join('')}</span></li>
              ))}
            </ul>
          )}
        </section>
        <section>
          <h2>What was changed</h2>
          {changes.length === 0 ? <p className="quiet-words">Nothing. It went as planned.</p> : (
            <ul className="lines">{changes.map((c) => <li key={`${c.at}-${c.event.type}`}><time>{clock(c.at)}</time><span>{changeWords(r, c)}</span></li>)}</ul>
          )}
        </section>
      </div>
      <section>
        <h2>Where the time went</h2>
        <TimeBar accounts={r.accounts} />
      </section>
      {r.sides.length > 0 && (
        <section>
          <h2>Sides</h2>
          {uneven.length === 0 ? <p>Both sides of every move got the same.</p> : (
            <ul className="lines">{uneven.map((s) => <li key={s.pair}><span><b>{sidesName(session, s)}</b>{s.round > 1 ? `, round ${s.round}` : ''}: {sidesWords(session, s)}</span></li>)}</ul>
          )}
          {uneven.length > 0 && even.length > 0 && <p className="quiet-words">The others got the same on both sides.</p>}
        </section>
      )}
      {session.notes.length > 0 && (
        <section>
          <h2>Notes</h2>
          <ul className="lines">{session.notes.map((n) => <li key={`${n.at}-${n.text}`}><time>{clock(n.at)}</time><span>{n.text}</span></li>)}</ul>
        </section>
      )}
      {session.over && <InFigures id={session.id} stopped={stopped} />}
      <section className="every">
        <h2>Every interval</h2>
        <RowsTable report={r} />
      </section>
      {session.over && <TakeClass id={session.id} stopped={stopped} />}
    </article>
  );
}
