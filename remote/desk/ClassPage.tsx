/** Owns opening one class of the log, and looking again while it still runs. */
import { useEffect, useMemo } from 'react';
import { serverAt } from '../../shared/time/units.ts';
import { report } from '../../shared/view/report.ts';
import { classBodySchema } from '../../shared/wire/http.ts';
import { useGet } from '../common/use-get.ts';
import { ReportPage } from './ReportPage.tsx';
import { DeskNav } from './review/DeskNav.tsx';

const LOOK_AGAIN_MS = 10_000;

export function ClassPage({ id }: { id: string }) {
  const [got, again] = useGet(`/api/classes/${encodeURIComponent(id)}`, classBodySchema);
  const body = got && 'ok' in got ? got.ok : null;
  const held = useMemo(() => (body ? report(body.events, serverAt(body.now)) : null), [body]);
  const runs = held !== null && held.session.over === null;
  useEffect(() => {
    if (!runs) return;
    const timer = setTimeout(again, LOOK_AGAIN_MS);
    return () => clearTimeout(timer);
  }, [runs, again]);
  return (
    <main className="desk">
      <DeskNav here={null} />
      {got && 'problem' in got && (
        <><p className="sentence" role="alert">{got.problem}</p><button type="button" className="control" onClick={again}>Ask again</button></>
      )}
      {!got && <p className="quiet-words">One moment.</p>}
      {body && !held && <p className="sentence">This class has no log to read.</p>}
      {body && held && <ReportPage report={held} events={body.events} timeZone={body.studio.timeZone} />}
    </main>
  );
}
