/** Owns what can be done with one class of the log: print it, take it as a table or as data, delete all of it. */
import { useState } from 'react';
import { deletedSchema } from '../../../shared/wire/review.ts';
import { problemSchema } from '../../../shared/wire/http.ts';

type State = 'idle' | 'sure' | 'sending' | { readonly problem: string };

export function TakeClass({ id, stopped }: { id: string; stopped: boolean }) {
  const [state, set] = useState<State>('idle');
  const path = `/api/classes/${encodeURIComponent(id)}`;
  const remove = async () => {
    set('sending');
    try {
      const answer = await fetch(path, { method: 'DELETE', credentials: 'same-origin' });
      const body: unknown = await answer.json();
      if (answer.ok && deletedSchema.safeParse(body).success) return window.location.assign('/desk');
      const problem = problemSchema.safeParse(body);
      set({ problem: problem.success ? problem.data.error : 'It was not deleted. Try again.' });
    } catch {
      set({ problem: 'The studio did not answer. It was not deleted.' });
    }
  };
  return (
    <section className="no-print">
      <h2>Take it with you</h2>
      <p className="spans">
        <button type="button" className="control" onClick={() => window.print()}>Print on one page</button>
        {!stopped && <><a className="control" href={`${path}/class.csv`}>Table (CSV)</a><a className="control" href={`${path}/class.json`}>Data (JSON)</a></>}
        {state !== 'sure' && <button type="button" className="control" disabled={state === 'sending'} onClick={() => set('sure')}>Delete this class</button>}
      </p>
      {state === 'sure' && (
        <p className="spans"><span>All of it goes: the log, notes, counts. It cannot be brought back.</span>
          <button type="button" className="control" onClick={() => void remove()}>Delete all of it</button><button type="button" className="control" onClick={() => set('idle')}>Keep it</button>
        </p>
      )}
      {typeof state === 'object' && <p className="sentence" role="alert">{state.problem}</p>}
    </section>
  );
}
