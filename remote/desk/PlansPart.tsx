/** Owns the studio's plans at the desk, and what is wrong with files that cannot be used, in sentences. */
import { movementsSchema, plansSchema, type ProblemBody } from '../../shared/wire/http.ts';
import { groupWords, minutes, rehearsalOf } from '../common/plan-words.ts';
import { useGet } from '../common/use-get.ts';

export function PlansPart() {
  const [plans] = useGet('/api/plans', plansSchema);
  const [movements] = useGet('/api/movements', movementsSchema);
  const body = plans && 'ok' in plans ? plans.ok : null;
  const broken = [...(body?.broken ?? []), ...(movements && 'ok' in movements ? movements.ok.broken : [])];
  return (
    <section>
      <h2>Class plans</h2>
      {plans && 'problem' in plans && <p className="sentence" role="alert">{plans.problem}</p>}
      {body?.plans.length === 0 && <p className="quiet-words">There are no plans yet.</p>}
      <ul className="desk-plans">
        {body?.plans.map((p) => (
          <li key={p.id}>
            <b><a href={`/desk/plans/${encodeURIComponent(p.id)}`}>{p.name}</a></b>
            <span>{[minutes(p.lengthMs), `${minutes(p.workMs)} of work`, groupWords[p.group]].filter(Boolean).join(', ')}{!p.problem && <>. <a href={rehearsalOf(p.id)}>Rehearse</a></>}</span>
            {p.problem && <em>It cannot run yet: {p.problem}</em>}
          </li>
        ))}
      </ul>
      <p><a href="/desk/plans">Plan a class</a>, <a href="/desk/timetable">the timetable</a>, <a href="/movements">all movements</a>, to choose from and to make one of your own</p>
      {broken.length > 0 && <Broken files={broken} />}
    </section>
  );
}

export function Broken({ files }: { files: readonly ProblemBody[] }) {
  return (
    <div className="broken">
      <h3>{files.length === 1 ? 'One file cannot be used' : `${files.length} files cannot be used`}</h3>
      <p>The rest works. Mend the file and load this page again.</p>
      <ul>
        {files.map((f) => (
          <li key={`${f.file ?? ''}${f.path ?? ''}${f.error}`}>
            {f.file && <code>{f.file}</code>} {f.path && <>at <code>{f.path}</code></>} {f.error}
          </li>
        ))}
      </ul>
    </div>
  );
}
