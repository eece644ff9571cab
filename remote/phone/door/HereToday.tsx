/** Owns what people said at the door: counts, no names; one tap more, one tap less. It is gone with the class. */
import { useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { HEAD_COUNT_MAX } from '../../../shared/limits.ts';
import { type Here, type Said, saids } from '../../../shared/session/here.ts';
import { saidWords } from '../../../shared/view/options.ts';

export function HereToday({ here, tell }: { here: Here | null; tell: Room['tell'] }) {
  const [sentence, say] = useState<string | null>(null);
  const set = async (what: Said, n: number) => {
    const told = await tell({ do: 'here', what, n: Math.min(HEAD_COUNT_MAX, Math.max(0, n)) });
    say('sentence' in told ? told.sentence : null);
  };
  return (
    <fieldset className="here-today">
      <legend>Here today</legend>
      {sentence && <p className="sentence" role="alert">{sentence}</p>}
      {saids.map((said) => {
        const n = here?.counts[said] ?? 0;
        return (
          <div key={said} className="here-one" data-some={n > 0}>
            <button type="button" className="control" aria-label={`${saidWords[said]}: ${n}. One more.`} onClick={() => void set(said, n + 1)}>
              <span>{saidWords[said]}</span><b>{n > 0 ? n : '+'}</b>
            </button>
            {n > 0 && <button type="button" className="control less" aria-label={`${saidWords[said]}: one fewer`} onClick={() => void set(said, n - 1)}>−</button>}
          </div>
        );
      })}
      <p className="quiet-words">Numbers only. No screen shows them, nothing writes them down, and they go with the class.</p>
    </fieldset>
  );
}
