/** Owns beginning with a template: published protocols by their numbers, with their paper, what is different here and what to mind. */
import { useState } from 'react';
import { templates } from '../../../shared/coach/templates.ts';
import type { Plan } from '../../../shared/plan/plan.ts';

export function Templates({ make }: { make: (plan: Plan) => void }) {
  const [open, setOpen] = useState<string | null>(null);
  return (
    <details className="bin templates"><summary>Begin with a template ({templates.length})</summary>
      <ul className="plan-list">
        {templates.map((t) => (
          <li key={t.id}>
            <span className="template-name"><b>{t.title}</b> <span>{t.paper}</span></span>
            <span className="plan-acts"><button type="button" className="link" aria-expanded={open === t.id} onClick={() => setOpen(open === t.id ? null : t.id)}>{open === t.id ? 'Close' : 'Look at it'}</button></span>
            {open === t.id && (
              <div className="told">
                <p>{t.timing}</p><p>{t.ours}</p>
                {t.cautions.length > 0 && <ul className="dashes">{t.cautions.map((c) => <li key={c}>{c}</li>)}</ul>}
                <p><button type="button" className="control small" onClick={() => make(t.plan)}>Begin with it</button></p>
              </div>
            )}
          </li>
        ))}
      </ul>
    </details>
  );
}
