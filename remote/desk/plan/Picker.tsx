/** Owns choosing a movement for a section: found by name and by what it is, each with its moving figure. */
import { useEffect, useMemo, useRef, useState } from 'react';
import { finder } from '../../../shared/coach/typed/names.ts';
import type { Library, Movement } from '../../../shared/movement/movement.ts';
import type { Section } from '../../../shared/plan/plan.ts';
import { sectionName } from '../../../shared/view/words.ts';
import { type Choice, choose as byWhatTheyAre, everything, ticked } from '../../movements/filter.ts';
import { Filters } from '../../movements/Filters.tsx';
import { Moving } from '../../movements/Moving.tsx';
import { capital, impactWords, whereWords } from '../../movements/words.ts';

interface Props { readonly library: Library; readonly section: Section; /** Closes after one. */ readonly one: boolean; readonly choose: (m: Movement) => void; readonly close: () => void }

const suits = (kind: Section['kind']) => (kind === 'warm-up' || kind === 'main' || kind === 'cool-down' ? [kind] : []);

export function Picker({ library, section, one, choose, close }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [choice, setChoice] = useState<Choice>({ ...everything, suits: suits(section.kind) });
  useEffect(() => { dialog.current?.showModal(); }, []);
  const found = useMemo(() => {
    const all = byWhatTheyAre([...library.values()], { ...choice, text: '' });
    if (choice.text.trim() === '') return all;
    const named = finder(library).search(choice.text, library.size);
    return named.filter((m) => all.some((a) => a.id === m.id));
  }, [library, choice]);
  const taken = new Map<string, number>();
  for (const { movement } of section.items) taken.set(movement, (taken.get(movement) ?? 0) + 1);
  return (
    <dialog ref={dialog} className="picker" onClose={close} aria-label={`Moves for ${sectionName(section)}`}>
      <header>
        <h2>{one ? 'Another move instead' : `Moves for ${sectionName(section)}`}</h2>
        <button type="button" className="control small" onClick={() => dialog.current?.close()}>{one ? 'Leave it' : section.items.length > 0 ? `Done, ${section.items.length} chosen` : 'Done'}</button>
      </header>
      <label className="find"><span className="unseen">Find by name</span>
        <input type="search" autoFocus placeholder="Find by name" value={choice.text} onChange={(e) => setChoice({ ...choice, text: e.target.value })}
          onKeyDown={(e) => { const first = found[0]; if (e.key === 'Enter' && first) { choose(first); setChoice({ ...choice, text: '' }); } }} />
      </label>
      <details className="choose-by"><summary>Choose by what they are{ticked(choice) > 0 ? ` (${ticked(choice)} ticked)` : ''}</summary><Filters choice={choice} choose={setChoice} /></details>
      {found.length === 0 && <p className="quiet-words">No movement is all of that. Untick something, or look for another name.</p>}
      <ul className="cards">
        {found.map((m) => (
          <li key={m.id} className="card">
            <button type="button" data-taken={taken.has(m.id)} onClick={() => choose(m)}>
              <Moving movement={m} side="right" sash={m.sides === 'each'} />
              <b>{m.name}{(taken.get(m.id) ?? 0) > 0 && !one ? <i> {(taken.get(m.id) ?? 0) > 1 ? `${taken.get(m.id)} times` : 'chosen'}</i> : null}</b>
              <span>{capital([whereWords(m), m.pattern, m.impact === 'none' ? '' : impactWords[m.impact]].filter(Boolean).join(', '))}</span>
            </button>
          </li>
        ))}
      </ul>
    </dialog>
  );
}
