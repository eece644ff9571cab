/** Owns asking for the log page by page, newest first. */
import { useState } from 'react';
import { type ClassesBody, classesSchema, type ClassSummary } from '../../shared/wire/http.ts';
import { useGet } from '../common/use-get.ts';
import { HeldList } from './HeldList.tsx';

const EACH_PAGE = 30;

export function HeldPart() {
  const [older, setOlder] = useState<readonly ClassSummary[]>([]);
  const [before, setBefore] = useState<number | null>(null);
  const [got, again] = useGet(`/api/classes?limit=${EACH_PAGE}${before === null ? '' : `&before=${before}`}`, classesSchema);
  const [studio, setStudio] = useState<Pick<ClassesBody, 'studio' | 'rooms'> | null>(null);
  const page = got && 'ok' in got ? got.ok : null;
  if (page && !studio) setStudio(page);
  const more = page?.before ?? null;
  const showOlder = () => {
    if (!page || more === null) return;
    setOlder([...older, ...page.classes]);
    setBefore(more);
  };
  return (
    <section>
      <h1>{studio?.studio.name ?? 'The log'}</h1>
      <h2>Classes held</h2>
      <HeldList classes={[...older, ...(page?.classes ?? [])]} rooms={studio?.rooms ?? []} timeZone={studio?.studio.timeZone ?? 'UTC'} ready={page !== null} />
      {got && 'problem' in got && (
        <><p className="sentence" role="alert">{got.problem}</p><button type="button" className="control" onClick={again}>Ask again</button></>
      )}
      {!got && <p className="quiet-words">One moment.</p>}
      {more !== null && <button type="button" className="control" onClick={showOlder}>Older classes</button>}
    </section>
  );
}
