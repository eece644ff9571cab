/** Owns the page where instructors choose: all movements moving, found by name and by what they are. */
import { useMemo, useState } from 'react';
import type { Library } from '../../shared/movement/movement.ts';
import { movementsSchema } from '../../shared/wire/http.ts';
import { useGet } from '../common/use-get.ts';
import { Card } from './Card.tsx';
import { Filters } from './Filters.tsx';
import { choose, everything, ticked } from './filter.ts';
import { Opened } from './Opened.tsx';
import { useOpened } from './use-opened.ts';

/** As wide as this the boxes to tick stand beside the movements; the same as in movements.css. */
const wide = window.matchMedia('(min-width: 60rem)').matches;

export function Choose() {
  const [got, again] = useGet('/api/movements', movementsSchema);
  const [choice, setChoice] = useState(everything);
  const [opened, close] = useOpened();
  const body = got && 'ok' in got ? got.ok : null;
  const library: Library = useMemo(() => new Map(body?.movements.map((m) => [m.id, m])), [body]);
  const found = useMemo(() => choose(body?.movements ?? [], choice), [body, choice]);
  const open = library.get(opened);
  const broken = body?.broken.length ?? 0;
  return (
    <main className="desk movements">
      <header className="top">
        <p><a href="/desk">The desk</a> <a href="/movements/new">Make one of your own</a></p>
        <h1>Movements</h1>
        <label className="find">
          <span>Find by name</span>
          <input type="search" value={choice.text} onChange={(e) => setChoice({ ...choice, text: e.target.value })} />
        </label>
        <p role="status">{body ? (found.length === body.movements.length ? `${found.length} movements` : `${found.length} of ${body.movements.length} movements`) : ''}</p>
      </header>
      <details className="choose-by" open={wide}>
        <summary>Choose by what they are{ticked(choice) > 0 ? ` (${ticked(choice)} ticked)` : ''}</summary>
        <Filters choice={choice} choose={setChoice} />
      </details>
      <section className="found" aria-label="Movements">
        {got && 'problem' in got && (
          <><p className="sentence" role="alert">{got.problem}</p><button type="button" className="control" onClick={again}>Ask again</button></>
        )}
        {!got && <p className="quiet-words">One moment.</p>}
        {broken > 0 && <p className="sentence">{broken === 1 ? 'One file' : `${broken} files`} cannot be used; <a href="/desk">the desk</a> says why.</p>}
        {body && found.length === 0 && <p className="quiet-words">No movement is all of that. Untick something, or look for another name.</p>}
        <ul className="cards">{found.map((m) => <Card key={m.id} movement={m} needs={choice.needs} />)}</ul>
      </section>
      {open && <Opened movement={open} library={library} close={close} />}
    </main>
  );
}
