/** Owns what the shows of a plan are planned to take and what they usually take, with whose they were. */
import { useMemo } from 'react';
import { compile } from '../../../shared/plan/compile.ts';
import { factsFor } from '../../../shared/plan/facts.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { type ShowsBody, showsSchema } from '../../../shared/wire/http.ts';
import { lengthWords } from '../../../shared/view/words.ts';
import type { Library } from '../../common/library.ts';
import { useGet } from '../../common/use-get.ts';

interface Props {
  readonly plan: Plan;
  readonly library: Library;
  readonly label: string;
}

/** "planned 20 s, usually 34 s"; where there are none of the instructor's own, whose it is. */
export function showWords({ plannedMs, usuallyMs, from }: ShowsBody['shows'][number], label: string): string {
  const whose = from === 'everybody' && label !== '' ? ' (everybody)' : '';
  return `planned ${lengthWords(plannedMs)}, usually ${lengthWords(usuallyMs)}${whose}`;
}

export function Shows({ plan, library, label }: Props) {
  const [got] = useGet(`/api/plans/${encodeURIComponent(plan.id)}/shows?instructor=${encodeURIComponent(label)}`, showsSchema);
  const shown = useMemo(
    () => new Set(compile(plan, library.facts).intervals.flatMap((i) => (i.kind === 'show' && i.ends === 'go' && i.movement ? [i.movement] : []))),
    [plan, library],
  );
  const shows = got && 'ok' in got ? got.ok.shows.filter((s) => shown.has(s.movement)) : [];
  if (shows.length === 0) return null;
  return (
    <section className="shows">
      <h3>To show{label === '' && <small>as everybody here takes</small>}</h3>
      <ul>
        {shows.map((s) => (
          <li key={s.movement}><b>{factsFor(library.facts, s.movement).name}</b>, {showWords(s, label)}</li>
        ))}
      </ul>
    </section>
  );
}
