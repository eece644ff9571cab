/** Owns the studio's plans at the desk: beginning one, opening, copying, putting away, files in and out, and the bin. */
import { useContext, useMemo, useRef, useState } from 'react';
import { groupWords } from '../../../shared/coach/groups.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { readPlanFile } from '../../../shared/plan/read-file.ts';
import { movementsSchema, planBodySchema, plansSchema, type PlanSummary } from '../../../shared/wire/http.ts';
import { binnedSchema, binSchema, keptSchema } from '../../../shared/wire/plans.ts';
import { AtHome, readAt } from '../../common/at-home.ts';
import { ask } from '../../common/get.ts';
import { minutes, rehearsalOf } from '../../common/plan-words.ts';
import { useGet } from '../../common/use-get.ts';
import { DeskNav } from '../review/DeskNav.tsx';
import { Broken } from '../PlansPart.tsx';
import { emptyPlan } from './draft.ts';
import { editAt, homeAt, makePlan } from './make.ts';
import { PairHere } from './PairHere.tsx';
import { send } from './saving.ts';
import { Templates } from './Templates.tsx';

export function PlansPage() {
  const home = useContext(AtHome);
  const [got, again] = useGet('/api/plans', plansSchema);
  const [movements] = useGet('/api/movements', movementsSchema);
  const [bin, binAgain] = useGet('/api/bin', binSchema);
  const [name, setName] = useState('');
  const [said, setSaid] = useState<{ problem: string; pair: boolean } | null>(null);
  const [imported, setImported] = useState<{ plan: Plan; leftOut: readonly string[] } | null>(null);
  const file = useRef<HTMLInputElement>(null);
  const plans = got && 'ok' in got ? got.ok.plans : [];
  const taken = useMemo(() => plans.map((p) => p.id), [plans]);
  const known = useMemo(() => new Set(movements && 'ok' in movements ? movements.ok.movements.map((m) => m.id) : []), [movements]);
  const problem = [got, movements].flatMap((g) => (g && 'problem' in g ? [g.problem] : []))[0];
  const binned = bin && 'ok' in bin ? bin.ok.plans : [];

  const make = async (plan: Plan) => setSaid(await makePlan(plan, taken));
  const begin = () => void make(emptyPlan('new', name.trim() || 'New class'));
  const copy = async (p: PlanSummary) => {
    const whole = await ask(`/api/plans/${encodeURIComponent(p.id)}`, planBodySchema);
    if ('ok' in whole) await make({ ...whole.ok, name: `${whole.ok.name}, copy`.slice(0, 80) });
    else setSaid({ problem: whole.problem, pair: false });
  };
  const away = async (id: string) => {
    const done = await send('DELETE', `/api/plans/${encodeURIComponent(id)}`, binnedSchema);
    if ('ok' in done) { setSaid(null); again(); binAgain(); } else setSaid({ problem: done.problem, pair: done.status === 403 });
  };
  const back = async (lying: string) => {
    const done = await send('POST', `/api/bin/${encodeURIComponent(lying)}/back`, keptSchema);
    if ('ok' in done) { again(); binAgain(); } else setSaid({ problem: done.problem, pair: done.status === 403 });
  };
  const read = async (chosen: File) => {
    setImported(null);
    let json: unknown;
    try { json = JSON.parse(await chosen.text()); } catch { return setSaid({ problem: `“${chosen.name}” is no JSON, so it holds no plan. Choose a file that was exported here.`, pair: false }); }
    const plan = readPlanFile(json, (m) => known.has(m));
    if ('refused' in plan) return setSaid({ problem: `“${chosen.name}” was not brought in. ${plan.refused}`, pair: false });
    if (plan.leftOut.length === 0) return make(plan.plan);
    setSaid(null);
    setImported(plan);
  };

  return (
    <main className="desk plans-page">
      {!home && <DeskNav here="/desk/plans" />}
      <section className="begin">
        <h1>Class plans</h1>
        <form className="begin-line" onSubmit={(e) => { e.preventDefault(); begin(); }}>
          <label><span>A new class</span><input value={name} maxLength={80} placeholder="Its name" onChange={(e) => setName(e.target.value)} dir="auto" /></label>
          <button type="submit" className="control">Plan it</button>
          <a className="control" href={`/desk/plans?typed=${encodeURIComponent(name)}`}>Type it as on paper</a>
          <button type="button" className="control" onClick={() => file.current?.click()}>From a file</button>
          {!home && <a className="control" href={homeAt()}>Take home, bring back</a>}
          <input ref={file} type="file" className="unseen" accept=".json,application/json" aria-label="A plan as a file" tabIndex={-1} onChange={(e) => { const chosen = e.target.files?.[0]; e.target.value = ''; if (chosen) void read(chosen); }} />
        </form>
        {said && <p className="sentence" role="alert">{said.problem}</p>}
        {said?.pair && <PairHere done={() => setSaid(null)} />}
        {imported && (
          <div className="told" role="status">
            <p><b>“{imported.plan.name}” can be brought in, but not all of it:</b></p>
            <ul className="dashes">{imported.leftOut.map((l) => <li key={l}>{l}</li>)}</ul>
            <p><button type="button" className="control small" onClick={() => void make(imported.plan)}>Bring it in so</button> <button type="button" className="link" onClick={() => setImported(null)}>Leave it</button></p>
          </div>
        )}
      </section>
      <section>
        {problem && <p className="sentence" role="alert">{problem}</p>}
        {!got && <p className="quiet-words">One moment.</p>}
        <ul className="plan-list">
          {plans.map((p) => (
            <li key={p.id}>
              <a href={editAt(p.id)}><b dir="auto">{p.name}</b><span>{[minutes(p.lengthMs), `${minutes(p.workMs)} of work`, p.group === 'general' ? '' : groupWords[p.group as Plan['group']]].filter(Boolean).join(', ')}</span></a>
              <span className="plan-acts">
                {home && <a href={readAt(p.id)}>Read</a>}
                {!p.problem && <a href={rehearsalOf(p.id)}>Rehearse</a>}
                <button type="button" className="link" aria-label={`Copy ${p.name}`} onClick={() => void copy(p)}>Copy</button>
                <button type="button" className="link" aria-label={`Put ${p.name} into the bin`} onClick={() => void away(p.id)}>Bin</button>
              </span>
              {p.problem && <em>It cannot run yet: {p.problem}</em>}
            </li>
          ))}
        </ul>
        {got && 'ok' in got && got.ok.broken.length > 0 && <Broken files={got.ok.broken} />}
      </section>
      <Templates make={(plan) => void make(name.trim() === '' ? plan : { ...plan, name: name.trim() })} />
      {binned.length > 0 && (
        <details className="bin"><summary>In the bin ({binned.length})</summary>
          <ul className="plan-list">{binned.map((b) => <li key={b.file}><span><b dir="auto">{b.name}</b></span><span className="plan-acts"><button type="button" className="link" onClick={() => void back(b.file)}>Take out of the bin</button></span></li>)}</ul>
        </details>
      )}
    </main>
  );
}
