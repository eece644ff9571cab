/** Owns counting at the door, before a class is there to hold the number. */
import { useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { HEAD_COUNT_MAX } from '../../../shared/limits.ts';

export function DoorHeads({ heads, tell }: { heads: number; tell: Room['tell'] }) {
  const [text, setText] = useState<string | null>(null);
  const [sentence, say] = useState<string | null>(null);
  const set = async (n: number) => {
    setText(null);
    const told = await tell({ do: 'heads', n: Math.min(HEAD_COUNT_MAX, Math.max(0, n)) });
    say('sentence' in told ? told.sentence : null);
  };
  const typed = () => { if (text !== null && text !== '') void set(Number(text)); else setText(null); };
  return (
    <form className="sheet-part heads-edit" onSubmit={(e) => { e.preventDefault(); typed(); }}>
      <label htmlFor="door-heads">How many are here?</label>
      <div className="stepper">
        <button type="button" className="control" aria-label="One fewer" disabled={heads === 0} onClick={() => void set(heads - 1)}>−</button>
        <input id="door-heads" inputMode="numeric" autoComplete="off" maxLength={3} value={text ?? String(heads)} onFocus={(e) => e.target.select()} onChange={(e) => setText(e.target.value.replace(/\D/g, ''))} onBlur={typed} />
        <button type="button" className="control" aria-label="One more" disabled={heads >= HEAD_COUNT_MAX} onClick={() => void set(heads + 1)}>+</button>
      </div>
      {sentence && <p className="sentence" role="alert">{sentence}</p>}
    </form>
  );
}
