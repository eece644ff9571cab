/** Owns the page of the coach's rules: each with its id, its grade, why it is there and from whom that is. The address may name one. */
import { useEffect } from 'react';
import { rulesList } from '../../../shared/coach/check.ts';
import { type Grade, grades } from '../../../shared/coach/finding.ts';
import { DeskNav } from '../review/DeskNav.tsx';
import './rules.css';

const about: Readonly<Record<Grade, string>> = {
  'cannot run': 'The class cannot be started like this. These are always shown, and cannot be waived.',
  'think again': 'Something may hurt, or go wrong. At most three of these and the next are shown at a time, these first.',
  'for your information': 'It may well be meant so.',
};

/** "no-warm-up" as words: "No warm-up" stays an id beside it. */
const wordsOf = (id: string): string => id.charAt(0).toUpperCase() + id.slice(1).replaceAll('-', ' ').replace('warm up', 'warm-up').replace('cool down', 'cool-down');
const whole = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

export default function RulesPage({ named }: { named: string }) {
  // The rules come after the page, so the browser has not gone to the one that is named.
  useEffect(() => { if (named !== '') document.getElementById(named)?.scrollIntoView({ block: 'center' }); }, [named]);
  return (
    <main className="desk rules-page">
      <DeskNav here={null} />
      <header><h1>What the coach looks for</h1></header>
      <div className="rules-about">
        <p>{rulesList.length} rules are asked of every plan while it is written. Who knows better waives one for a plan, with a reason that is kept with it. What a midwife, a doctor or a physiotherapist has told somebody comes before all of them, and so do local rules.</p>
        <p>“Common practice, no source” means just that. “As quoted elsewhere” and “from memory” mean that we have not seen the text itself.</p>
      </div>
      {grades.map((grade) => (
        <section key={grade} className="rules-grade" data-grade={grade}>
          <h2>{whole(grade)}</h2>
          <p className="quiet-words">{about[grade]}</p>
          <dl>
            {rulesList.filter((r) => r.grade === grade).map((r) => (
              <div key={r.id} id={r.id} className="rule" aria-current={r.id === named || undefined}>
                <dt>{wordsOf(r.id)} <a href={`#${r.id}`} aria-label={`The address of this rule, ${r.id}`}>{r.id}</a></dt>
                <dd>{r.reason}</dd>
                <dd><cite>{whole(r.source)}.</cite></dd>
              </div>
            ))}
          </dl>
        </section>
      ))}
    </main>
  );
}
