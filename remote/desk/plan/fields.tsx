/** Owns the small fields of a plan: a number that says its bounds, a choice, and a choice that hides while it is the default. */
import { useEffect, useId, useState } from 'react';

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
