/** Owns proposing the next session of a series: each change with its sentence, to take or to leave. */
import { useMemo, useState } from 'react';
import { z } from 'zod';
import { type Lived, lived } from '../../../shared/coach/lived.ts';
import { type Lever, leverOrder, leverWords, nextSession, takeChanges } from '../../../shared/coach/next.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { serverAt } from '../../../shared/time/units.ts';
import { report } from '../../../shared/view/report.ts';
import { classBodySchema, classesSchema, movementsSchema, plansSchema } from '../../../shared/wire/http.ts';
import { keptSchema } from '../../../shared/wire/plans.ts';
import { recordSchema } from '../../../shared/wire/review.ts';
import { useGet } from '../../common/use-get.ts';
import { dayWords } from '../day-words.ts';
import { idFor } from './draft.ts';
import { NumberField, Pick } from './fields.tsx';
import { editAt } from './make.ts';
import { PairHere } from './PairHere.tsx';
import { send } from './saving.ts';

const recordBodySchema = z.looseObject({ record: recordSchema.nullable() });

export function NextPage({ id }: { id: string }) {
  const [kept] = useGet(`/api/plans/${encodeURIComponent(id)}/kept`, keptSchema);
  const [movements] = useGet('/api/movements', movementsSchema);
  const [classes] = useGet('/api/classes?limit=100', classesSchema);
  const held = classes && 'ok' in classes ? classes.ok.classes.find((c) => c.plan === id && c.endedAt !== null) : undefined;
  const [log] = useGet(held ? `/api/classes/${encodeURIComponent(held.id)}` : null, classBodySchema);
  const [record] = useGet(held ? `/api/classes/${encodeURIComponent(held.id)}/record` : null, recordBodySchema);
  const answered = record && 'ok' in record ? record.ok.record?.effort ?? null : null;
  const problem = [kept, movements, classes, log].flatMap((g) => (g && 'problem' in g ? [g.problem] : []))[0];
  const last = useMemo(() => {
    const r = log && 'ok' in log ? report(log.ok.events, serverAt(log.ok.now)) : null;
    return r ? lived(r) : null;
  }, [log]);
  const library: Library | null = useMemo(() => (movements && 'ok' in movements ? new Map(movements.ok.movements.map((m) => [m.id, m])) : null), [movements]);
  const waits = !kept || !library || !classes || (held !== undefined && (!log || !record));
  return (
    <main className="desk next-page">
      <p><a href={editAt(id)}>The plan</a></p>
      <h1>Next session</h1>
      {problem && <p className="sentence" role="alert">{problem}</p>}
      {waits && !problem && <p className="quiet-words">One moment.</p>}
      {kept && 'ok' in kept && library && !waits && (
        <Proposal plan={kept.ok.plan} library={library} last={last} answered={answered} when={held && classes && 'ok' in classes ? dayWords(held.startedAt, classes.ok.studio.timeZone) : null} />
      )}
    </main>
  );
}

interface ProposalProps {
  readonly plan: Plan; readonly library: Library; readonly last: Lived | null; readonly when: string | null;
  /** What the room answered to how hard it was. */
  readonly answered: { readonly answers: number; readonly mean: number } | null;
}

function Proposal({ plan, library, last, when, answered }: ProposalProps) {
  const [lever, setLever] = useState<Lever>(plan.series?.lever ?? 'seconds');
  const [effort, setEffort] = useState<number | undefined>(answered ? Math.round(answered.mean * 10) / 10 : undefined);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [said, setSaid] = useState<{ problem: string; pair: boolean } | null>(null);
  const next = useMemo(() => nextSession(plan, library, last, effort ?? null, { lever }), [plan, library, last, effort, lever]);
  const taken = next.changes.filter((c) => c.edits.length > 0 && !left.has(c.id));
  const make = async () => {
    const made = takeChanges({ ...plan, series: { name: plan.series?.name ?? plan.name, number: plan.series?.number ?? 1, lever } }, taken);
    const known = await send('GET', '/api/plans', plansSchema);
    if (!('ok' in known)) return setSaid({ problem: known.problem, pair: false });
    const got = await send('POST', '/api/plans', keptSchema, { ...made, id: idFor(made.id, known.ok.plans.map((p) => p.id)) });
    if ('ok' in got) window.location.assign(editAt(got.ok.plan.id));
    else setSaid({ problem: got.problem, pair: got.status === 403 });
  };
  return (
    <>
      <p>After “{plan.name}”{plan.series ? `, number ${plan.series.number}` : ''}. {when ? `It was last held on ${when}; what happened then is looked at.` : 'It was not held yet, so there is only the plan to go by.'} {answered ? `${answered.answers === 1 ? 'One' : answered.answers} said how hard it was: ${answered.mean.toFixed(1)} of 10.` : ''}</p>
      <div className="section-numbers">
        <Pick<Lever> label="What grows" value={lever} list={leverOrder.map((l) => [l, leverWords[l]] as const)} set={(l) => { if (l !== '') { setLever(l); setLeft(new Set()); } }} />
        <NumberField label="How hard was it, 0 to 10" value={effort} least={0} most={10} empty="–" set={setEffort} />
      </div>
      <p>{next.says}</p>
      <ul className="changes-list">
        {next.changes.map((c) => (
          <li key={c.id} data-kind={c.kind} data-left={left.has(c.id)}>
            <p>{c.sentence}</p>
            {c.edits.length > 0 && <label className="check"><input type="checkbox" checked={!left.has(c.id)} onChange={() => setLeft((was) => { const now = new Set(was); if (!now.delete(c.id)) now.add(c.id); return now; })} /> take it</label>}
          </li>
        ))}
      </ul>
      <p className="quiet-words">{next.source}</p>
      {said && <p className="sentence" role="alert">{said.problem}</p>}
      {said?.pair && <PairHere done={() => setSaid(null)} />}
      <p><button type="button" className="control" onClick={() => void make()}>Make number {(plan.series?.number ?? 1) + 1}, with {taken.length === 0 ? 'no change' : taken.length === 1 ? 'one change' : `${taken.length} changes`}</button></p>
    </>
  );
}
