/** Owns the former versions of a plan: looked at when asked for, taken back as one step that can be undone. */
import { useState } from 'react';
import { planBodySchema } from '../../../shared/wire/http.ts';
import { versionsSchema } from '../../../shared/wire/plans.ts';
import { ask } from '../../common/get.ts';
import { useGet } from '../../common/use-get.ts';
import type { Edit } from './draft.ts';
import { clockWords } from './words.ts';

const when = (at: number): string => new Intl.DateTimeFormat('en-GB', { weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit', second: '2-digit' }).format(at);

export function Versions({ id, edit }: { id: string; edit: Edit }) {
  const [open, setOpen] = useState(false);
  return (
    <details className="bin no-print" onToggle={(e) => setOpen(e.currentTarget.open)}><summary>Former versions</summary>
      {open && <List id={id} edit={edit} />}
    </details>
  );
}

function List({ id, edit }: { id: string; edit: Edit }) {
  const [got] = useGet(`/api/plans/${encodeURIComponent(id)}/versions`, versionsSchema);
  const [problem, setProblem] = useState<string | null>(null);
  const take = async (revision: string) => {
    const version = await ask(`/api/plans/${encodeURIComponent(id)}/versions/${revision}`, planBodySchema);
    if ('ok' in version) edit(() => version.ok);
    else setProblem(version.problem);
  };
  const said = problem ?? (got && 'problem' in got ? got.problem : null);
  const versions = got && 'ok' in got ? got.ok.versions : [];
  return (
    <>
      {said && <p className="sentence" role="alert">{said}</p>}
      {got && 'ok' in got && versions.length === 0 && <p className="quiet-words">None yet. What is kept from now on can be taken back here.</p>}
      <ul className="plan-list">
        {versions.map((v) => (
          <li key={`${v.revision}${v.at}`}><span className="template-name"><b dir="auto">{v.name}</b><span>{when(v.at)}, {clockWords(v.lengthMs)}</span></span><span className="plan-acts"><button type="button" className="link" onClick={() => void take(v.revision)}>Take it back</button></span></li>
        ))}
      </ul>
    </>
  );
}
