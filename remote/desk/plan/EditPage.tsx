/** Owns opening a plan to write: its newest version and the library, then the editor. */
import { useMemo } from 'react';
import type { Library } from '../../../shared/movement/movement.ts';
import { movementsSchema } from '../../../shared/wire/http.ts';
import { keptSchema } from '../../../shared/wire/plans.ts';
import { useGet } from '../../common/use-get.ts';
import { Editor } from './Editor.tsx';

export function EditPage({ id }: { id: string }) {
  const [kept, again] = useGet(`/api/plans/${encodeURIComponent(id)}/kept`, keptSchema);
  const [movements, movementsAgain] = useGet('/api/movements', movementsSchema);
  const library: Library | null = useMemo(() => (movements && 'ok' in movements ? new Map(movements.ok.movements.map((m) => [m.id, m])) : null), [movements]);
  const problem = [kept, movements].flatMap((g) => (g && 'problem' in g ? [g.problem] : []))[0];
  if (kept && 'ok' in kept && library) return <Editor kept={kept.ok} library={library} />;
  return (
    <main className="desk">
      <p><a href="/desk">The desk</a></p>
      {problem ? <><p className="sentence" role="alert">{problem}</p><button type="button" className="control" onClick={() => { again(); movementsAgain(); }}>Ask again</button></> : <p className="quiet-words">One moment.</p>}
    </main>
  );
}
