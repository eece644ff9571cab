/** Owns the small fields of a plan: a number that says its bounds, a choice, and a choice that hides while it is the default. */
import { useEffect, useId, useState } from 'react';
import { PLAN_MOST_S, ROUNDS_MAX } from '../../../shared/limits.ts';
import type { Rounds } from '../../../shared/plan/plan.ts';

interface NumberProps {
  readonly label: string;
  readonly value: number | undefined;
  readonly unit?: string;
  readonly least: number;
  readonly most: number;
  /** May be left empty; then this stands in it, pale. */
  readonly empty?: string;
  readonly whole?: boolean;
  readonly set: (value: number | undefined) => void;
}

/** What was typed stays until it is a number within its bounds; only then the plan changes. */
export function NumberField({ label, value, unit = '', least, most, empty, whole = false, set }: NumberProps) {
  const id = useId();
  const [text, setText] = useState(value === undefined ? '' : String(value));
  useEffect(() => { setText((t) => (t !== '' && Number(t.replace(',', '.')) === value ? t : value === undefined ? '' : String(value))); }, [value]);
  const wrongOf = (typed: string): string | null => {
    if (typed.trim() === '') return empty === undefined ? `A number from ${least} to ${most}` : null;
    const n = Number(typed.replace(',', '.'));
    if (!Number.isFinite(n) || n < least || n > most) return `From ${least} to ${most}`;
    if (whole ? !Number.isInteger(n) : Math.abs(n * 10 - Math.round(n * 10)) > 1e-6) return whole ? 'A whole number' : 'Tenths at the finest';
    return null;
  };
  const wrong = wrongOf(text);
  return (
    <span className="num" data-wrong={wrong !== null}>
      <label htmlFor={id}>{label}</label>
      <span className="num-in">
        <input
          id={id} inputMode="decimal" autoComplete="off" value={text} placeholder={empty ?? ''} aria-invalid={wrong !== null} aria-describedby={wrong === null ? undefined : `${id}-wrong`}
          onChange={(e) => {
            const typed = e.target.value;
            setText(typed);
            if (wrongOf(typed) === null) set(typed.trim() === '' ? undefined : Number(typed.replace(',', '.')));
          }}
          onBlur={() => { if (wrong !== null) setText(value === undefined ? '' : String(value)); }}
        />
        {unit && <span aria-hidden="true">{unit}</span>}
      </span>
      {wrong !== null && <em id={`${id}-wrong`} role="alert">{wrong}</em>}
    </span>
  );
}

interface PickProps<T extends string> {
  readonly label: string;
  readonly value: T | '';
  readonly list: readonly (readonly [T | '', string])[];
  readonly set: (value: T | '') => void;
}
export function Pick<T extends string>({ label, value, list, set }: PickProps<T>) {
  const id = useId();
  return (
    <span className="num">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(e) => set(e.target.value as T | '')}>
        {list.map(([v, words]) => <option key={v} value={v}>{words}</option>)}
      </select>
    </span>
  );
}

interface LadderProps { readonly rounds: Rounds; readonly set: (rounds: Rounds) => void }
/** "20 30 40 30 20": one step a round, in seconds or in repetitions. What cannot be a ladder changes nothing and says so. */
export function LadderField({ rounds, set }: LadderProps) {
  const id = useId();
  const of = typeof rounds === 'object' && 'reps' in rounds ? 'reps' : 'seconds';
  const steps = typeof rounds === 'number' ? '' : ('seconds' in rounds ? rounds.seconds : rounds.reps).join(' ');
  const [text, setText] = useState(steps);
  useEffect(() => setText(steps), [steps]);
  const read = (typed: string, kind: 'seconds' | 'reps'): Rounds | null => {
    const list = typed.split(/[\s,]+/).filter(Boolean).map(Number);
    const most = kind === 'reps' ? 200 : PLAN_MOST_S;
    const good = list.length > 1 && list.length <= ROUNDS_MAX && list.every((n) => Number.isInteger(n) && n >= 1 && n <= most);
    if (!good) return null;
    return kind === 'reps' ? { reps: list } : { seconds: list };
  };
  const wrong = text.trim() !== '' && read(text, of) === null;
  return (
    <span className="num" data-wrong={wrong}>
      <label htmlFor={id}>Ladder</label>
      <span className="num-in">
        <input id={id} className="ladder" inputMode="numeric" autoComplete="off" placeholder="20 30 20" value={text} aria-invalid={wrong}
          onChange={(e) => setText(e.target.value)} onBlur={() => { const next = read(text, of); if (next && text !== steps) set(next); else setText(steps); }} />
        <select aria-label="Steps of the ladder" value={of} disabled={typeof rounds === 'number'} onChange={(e) => { const next = read(text, e.target.value === 'reps' ? 'reps' : 'seconds'); if (next) set(next); }}>
          <option value="seconds">s</option><option value="reps">reps</option>
        </select>
      </span>
      {wrong && <em role="alert">Two or more whole numbers, one a round</em>}
    </span>
  );
}
