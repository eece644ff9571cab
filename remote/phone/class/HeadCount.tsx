/** Owns setting how many are here: one more, one fewer, or the number. */
import { useState } from 'react';
import { HEAD_COUNT_MAX } from '../../../shared/limits.ts';
import type { Session } from '../../../shared/session/session.ts';
import type { Taps } from '../hooks/use-taps.ts';

export function HeadCount({ session, taps }: { session: Session; taps: Taps }) {
  const n = session.headCount ?? 0;
  const [text, setText] = useState<string | null>(null);
  const set = (to: number) => {
    setText(null);
    if (to !== session.headCount) void taps.tap('heads', { type: 'head-count', n: Math.min(HEAD_COUNT_MAX, Math.max(0, to)) });
  };
  return (
    <form className="sheet-part heads-edit" onSubmit={(e) => { e.preventDefault(); set(Number(text ?? n)); }}>
      <label htmlFor="heads">Head count</label>
      <div className="stepper">
        <button type="button" className="control" aria-label="One fewer" disabled={n === 0} onClick={() => set(n - 1)}>−</button>
        <input
          id="heads" inputMode="numeric" autoComplete="off" maxLength={3} value={text ?? String(n)}
          onFocus={(e) => e.target.select()}
          onChange={(e) => setText(e.target.value.replace(/\D/g, ''))}
          onBlur={() => { if (text !== null && text !== '') set(Number(text)); else setText(null); }}
        />
        <button type="button" className="control" aria-label="One more" disabled={n >= HEAD_COUNT_MAX} onClick={() => set(n + 1)}>+</button>
      </div>
    </form>
  );
}
