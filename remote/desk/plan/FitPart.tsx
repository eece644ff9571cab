/** Owns fitting a plan to so many minutes: what would be different is shown before it is kept. */
import { useState } from 'react';
import { type Fitted, fit as fitTo } from '../../../shared/coach/fit.ts';
import { CLASS_MOST_S } from '../../../shared/limits.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import type { Edit } from './draft.ts';
import { NumberField } from './fields.tsx';
import { clockWords } from './words.ts';

interface Props { readonly plan: Plan; readonly library: Library; readonly edit: Edit; readonly lengthMs: number }

export function FitPart({ plan, library, edit, lengthMs }: Props) {
  const [minutes, setMinutes] = useState<number | undefined>(undefined);
  const [offer, setOffer] = useState<{ of: Plan; minutes: number; fitted: Fitted } | null>(null);
  const to = minutes ?? (plan.slot === undefined ? Math.max(1, Math.round(lengthMs / 60_000)) : plan.slot / 60);
  const shown = offer && offer.of === plan ? offer : null;
  const take = () => {
    if (!shown) return;
    const { fitted } = shown;
    edit((now) => ({ ...now, ...fitted.plan, slot: shown.minutes * 60, name: now.name }));
    setOffer(null);
  };
  return (
    <section className="fit no-print">
      <p className="fit-line">
        <button type="button" className="control small" onClick={() => setOffer({ of: plan, minutes: to, fitted: fitTo(plan, library, to * 60) })}>Fit it to</button>
        <NumberField label="Minutes" unit="min" value={to} least={1} most={CLASS_MOST_S / 60} whole set={setMinutes} />
      </p>
      {shown && (
        <div className="offer" role="status">
          <p><b>It would take {clockWords(shown.fitted.lengthMs)}</b>{shown.fitted.exact ? ', to the second.' : '.'} {shown.fitted.why ?? ''}</p>
          {shown.fitted.differences.length === 0 ? <p>Nothing would change.</p> : <ul>{shown.fitted.differences.map((d) => <li key={d}>{d}</li>)}</ul>}
          <p><button type="button" className="control small" onClick={take}>Keep it so</button> <button type="button" className="link" onClick={() => setOffer(null)}>Leave it as it is</button></p>
        </div>
      )}
    </section>
  );
}
