/** Owns a plan to be read, by somebody who covers the class, on a phone: each move with its figure, its time, its cues and its option. */
import { useMemo } from 'react';
import { sums } from '../../shared/coach/sums.ts';
import { groupWords } from '../../shared/coach/groups.ts';
import type { Library } from '../../shared/movement/movement.ts';
import { compile } from '../../shared/plan/compile.ts';
import type { Item, Plan, Section } from '../../shared/plan/plan.ts';
import { Floor } from '../../shared/ui/Floor.tsx';
import { floorOf } from '../../shared/view/floor.ts';
import { sectionName } from '../../shared/view/words.ts';
import { libraryOf } from '../common/library.ts';
import { rehearsalOf, sectionWords } from '../common/plan-words.ts';
import { editAt } from '../desk/plan/make.ts';
import { clockWords, workWords } from '../desk/plan/words.ts';
import { Moving } from '../movements/Moving.tsx';
import { capital } from '../movements/words.ts';

export function ReadPage({ plan, cover, library }: { plan: Plan | null; cover: string; library: Library }) {
  if (!plan) return <main className="desk"><p className="sentence" role="alert">There is no such plan in this file.</p><p><a href="/desk/plans">All plans</a></p></main>;
  return <Read plan={plan} cover={cover} library={library} />;
}

function Read({ plan, cover, library }: { plan: Plan; cover: string; library: Library }) {
  const sum = useMemo(() => sums(plan, library), [plan, library]);
  const floor = useMemo(() => floorOf({ intervals: compile(plan, libraryOf([...library.values()]).facts).intervals }), [plan, library]);
  const ask = [...new Set(plan.sections.flatMap((s) => s.items).flatMap((i) => library.get(i.movement)?.askFirst ?? []))];
  return (
    <main className="desk read-page">
      <p className="plan-links no-print"><a href="/desk/plans">All plans</a> <a href={rehearsalOf(plan.id)}>Rehearse</a> <a href={editAt(plan.id)}>Write in it</a></p>
      <header>
        <h1 dir="auto">{plan.name}</h1>
        <p>{[`${clockWords(sum.lengthMs)} in all`, plan.slot === undefined ? '' : `slot ${plan.slot / 60} min`, plan.group === 'general' ? '' : groupWords[plan.group], plan.series ? `number ${plan.series.number} of ${plan.series.name}` : ''].filter(Boolean).join(', ')}</p>
        <div className="floor-strip"><Floor floor={floor} atMs={0} notch={false} overrunMs={0} /></div>
        {[cover, plan.forCover ?? ''].map((note) => note !== '' && <p key={note} className="told"><b>Left for cover</b> <span dir="auto">{note}</span></p>)}
        {plan.note && <p className="told" dir="auto">{plan.note}</p>}
      </header>
      {plan.sections.map((s) => (
        <section key={s.id} className="read-section" data-kind={s.kind}>
          <h2 dir="auto">{sectionName(s)} <small>from {clockWords(sum.sections.find((x) => x.id === s.id)?.startMs ?? 0)}</small></h2>
          <p>{s.talk !== undefined ? `Talk, about ${clockWords(s.talk * 1_000)}` : [s.way === 'follow-me' && s.work !== undefined ? `${clockWords(s.work * 1_000)} in all` : '', sectionWords(s)].filter(Boolean).join(', ')}</p>
          {/* biome-ignore lint/suspicious/noArrayIndexKey: the same move may stand there twice */}
          <ol>{s.items.map((item, k) => <Move key={`${item.movement}${k}`} item={item} section={s} library={library} />)}</ol>
        </section>
      ))}
      {ask.length > 0 && <section><h2>Ask first</h2><ul className="dashes">{ask.map((a) => <li key={a}>{capital(a)}</li>)}</ul></section>}
      <p className="quiet-words">Pain, dizziness or short of breath: stop. What a midwife, doctor or physiotherapist has told somebody comes before any plan.</p>
    </main>
  );
}

const small = (words: string): string => words.slice(0, 1).toLowerCase() + words.slice(1);

function Move({ item, section, library }: { item: Item; section: Section; library: Library }) {
  const m = library.get(item.movement);
  if (!m) return <li className="read-move"><div><b>{item.movement}</b><p>It is not in the library of this file.</p></div></li>;
  const option = m.option.movement === undefined ? undefined : library.get(m.option.movement)?.name;
  const optionWords = option === undefined || option.toLowerCase() === m.option.words.toLowerCase() ? m.option.words : `${option}. ${m.option.words}`;
  return (
    <li className="read-move">
      <Moving movement={m} side="right" sash={m.sides === 'each'} />
      <div>
        <p><b>{m.name}</b> <span>{workWords(item, section, m)}</span></p>
        <p>{m.setUp} {m.action}</p>
        <p>{m.cues.join('. ')}.</p>
        <p><small>Look for: {m.lookFor.map(small).join(', ')}.</small></p>
        <p><small>Option: {optionWords}.</small></p>
      </div>
    </li>
  );
}
