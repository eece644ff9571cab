/** Owns a plan on paper: one page in large type for the floor beside the mat. Seen only when it is printed. */
import { groupWords } from '../../../shared/coach/groups.ts';
import { sums } from '../../../shared/coach/sums.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { sectionName } from '../../../shared/view/words.ts';
import { sectionWords } from '../../common/plan-words.ts';
import { clockWords, workWords } from './words.ts';

/** Lines that fit one page in the large type; more are set smaller. */
const LARGE_MOST = 34;
const MIDDLE_MOST = 60;

export function Sheet({ plan, library }: { plan: Plan; library: Library }) {
  const sum = sums(plan, library);
  const lines = plan.sections.reduce((n, s) => n + s.items.length + 2, 0);
  const startOf = (id: string) => sum.sections.find((s) => s.id === id)?.startMs ?? 0;
  const size = lines <= LARGE_MOST ? 'large' : lines <= MIDDLE_MOST ? 'middle' : 'small';
  return (
    <article className="sheet" data-size={size} aria-hidden="true">
      <h1 dir="auto">{plan.name}</h1>
      <p>{[`${clockWords(sum.lengthMs)} in all`, plan.slot === undefined ? '' : `slot ${plan.slot / 60} min`, plan.group === 'general' ? '' : groupWords[plan.group], plan.series ? `number ${plan.series.number}` : ''].filter(Boolean).join(', ')}</p>
      {plan.note && <p dir="auto">{plan.note}</p>}
      <div className="sheet-sections">
        {plan.sections.map((s) => (
          <section key={s.id}>
            <h2 dir="auto">{sectionName(s)} <small>from {clockWords(startOf(s.id))}</small></h2>
            <p>{s.talk === undefined ? [s.way === 'follow-me' && s.work !== undefined ? `${clockWords(s.work * 1_000)} min` : '', sectionWords(s)].filter(Boolean).join(', ') : `about ${clockWords(s.talk * 1_000)} min`}</p>
            <ol>{s.items.map((item, k) => {
              const movement = library.get(item.movement);
              // biome-ignore lint/suspicious/noArrayIndexKey: the same move may stand there twice
              return <li key={`${item.movement}${k}`}><b>{movement?.name ?? item.movement}</b> <span>{workWords(item, s, movement)}</span></li>;
            })}</ol>
          </section>
        ))}
      </div>
      <p className="sheet-foot">Pain, dizziness or short of breath: stop. New, pregnant or unwell: ask first.</p>
    </article>
  );
}
