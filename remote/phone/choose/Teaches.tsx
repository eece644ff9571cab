/** Owns asking who teaches: a short label, once, and only if somebody wants to give one. */
import { useEffect, useState } from 'react';
import { INSTRUCTOR_MAX } from '../../../shared/limits.ts';

interface Props {
  readonly label: string;
  readonly onLabel: (text: string) => void;
}

export function Teaches({ label, onLabel }: Props) {
  const [draft, setDraft] = useState(label);
  useEffect(() => setDraft(label), [label]);
  return (
    <div className="teaches">
      <label htmlFor="who-teaches">Who teaches?</label>
      <input
        id="who-teaches" value={draft} maxLength={INSTRUCTOR_MAX} autoComplete="off" autoCapitalize="words" enterKeyHint="done" aria-describedby="who-teaches-is"
        onChange={(e) => setDraft(e.target.value)}
        onBlur={() => onLabel(draft)}
        onKeyDown={(e) => { if (e.key === 'Enter') e.currentTarget.blur(); }}
      />
      <p id="who-teaches-is" className="quiet-words">A name, initials, or nothing. It is only a label: the log learns by it how long you take to show a move.</p>
    </div>
  );
}
