/** Owns what the coach says beside a plan: at most three sentences and all that cannot run; each is mended, waived with a reason, or left. */
import { useContext, useMemo, useState } from 'react';
import { check } from '../../../shared/coach/check.ts';
import { applyEdits } from '../../../shared/coach/edit.ts';
import { type Finding, shown, waive } from '../../../shared/coach/finding.ts';
import { NOTE_MAX } from '../../../shared/limits.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { AtHome } from '../../common/at-home.ts';
import { type Edit, keepable } from './draft.ts';

interface Props { readonly plan: Plan; readonly ready: Plan; readonly library: Library; readonly edit: Edit }

export function Coach({ plan, ready, library, edit }: Props) {
  const findings = useMemo(() => check(ready, library), [ready, library]);
  const [all, setAll] = useState(false);
  // A page that was taken home has no other pages beside it.
  const home = useContext(AtHome);
  const said = shown(findings, plan.waived ?? [], all ? 100 : 3);
  const whole = 'plan' in keepable(plan);
  return (
    <section className="coach">
      <h2>Before it is taught</h2>
      {said.findings.length === 0 && <p>Nothing speaks against it. You know the room; look at it once more as they will.</p>}
      <ul>
        {said.findings.map((f) => <Said key={`${f.id} ${f.where.section ?? ''} ${f.where.item ?? ''} ${f.sentence}`} finding={f} edit={edit} can={whole} />)}
      </ul>
      {(said.more > 0 || all) && <p className="no-print"><button type="button" className="link" onClick={() => setAll(!all)}>{all ? 'Only the most important' : said.more === 1 ? 'One thing more' : `${said.more} things more`}</button></p>}
      {!home && <p className="no-print"><a href="/desk/rules" target="_blank" rel="noreferrer">All that the coach looks for</a></p>}
      {said.waived.length > 0 && (
        <details className="waived"><summary>{said.waived.length === 1 ? 'One thing was waived' : `${said.waived.length} things were waived`}</summary>
          <ul>{said.waived.map(({ finding: f, reason }) => (
            <li key={f.id + f.sentence}>{f.sentence} <b dir="auto">“{reason}”</b> <button type="button" className="link" onClick={() => edit((p) => {
              const left = (p.waived ?? []).filter((w) => !(w.rule === f.id && w.reason === reason));
              const { waived: _gone, ...rest } = p;
              return left.length > 0 ? { ...rest, waived: left } : rest;
            })}>Say it again</button></li>
          ))}</ul>
        </details>
      )}
    </section>
  );
}

function Said({ finding: f, edit, can }: { finding: Finding; edit: Edit; can: boolean }) {
  const [why, setWhy] = useState<string | null>(null);
  const [source, setSource] = useState(false);
  const home = useContext(AtHome);
  const { mend } = f;
  return (
    <li className="said" data-grade={f.grade}>
      <p><b className="grade">{f.grade}</b> {f.sentence}</p>
      {source && <p className="quiet-words">{f.reason} <span>({f.source})</span>{!home && <> <a href={`/desk/rules#${f.id}`} target="_blank" rel="noreferrer">Rule {f.id}</a></>}</p>}
      {why === null ? (
        <p className="said-acts no-print">
          {mend && <button type="button" className="control small" disabled={!can} onClick={() => edit((p) => applyEdits(p, mend.edits))}>{mend.says}</button>}
          {f.waivable && <button type="button" className="link" onClick={() => setWhy('')}>Waive it</button>}
          <button type="button" className="link" aria-expanded={source} onClick={() => setSource(!source)}>{source ? 'Hide why' : 'Why'}</button>
        </p>
      ) : (
        <form className="waive no-print" onSubmit={(e) => { e.preventDefault(); if (why.trim() !== '') edit((p) => waive(p, f, why.trim())); }}>
          <label>The reason, kept with the plan
            <input value={why} ref={(field) => { if (why === '') field?.focus(); }} maxLength={NOTE_MAX} dir="auto" onChange={(e) => setWhy(e.target.value)} />
          </label>
          <button type="submit" className="control small" disabled={why.trim() === ''}>Waive it</button>
          <button type="button" className="link" onClick={() => setWhy(null)}>Leave it</button>
        </form>
      )}
    </li>
  );
}
