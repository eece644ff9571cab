/** Owns the fields of the form: one line, some lines, one of a list, some of a list, another movement. */
import type { ReactNode } from 'react';
import type { Movement } from '../../shared/movement/movement.ts';
import { capital } from './words.ts';

interface FieldProps { readonly name: string; readonly label: string; readonly hint?: string }

const Field = ({ label, hint, children }: { label: string; hint?: string | undefined; children: ReactNode }) => (
  // biome-ignore lint/a11y/noLabelWithoutControl: the control is the child
  <label className="field"><span>{label}</span>{hint && <small>{hint}</small>}{children}</label>
);

export const Line = ({ name, label, hint, max, optional }: FieldProps & { max: number; optional?: boolean }) =>
  <Field label={label} hint={hint}><input type="text" name={name} maxLength={max} required={!optional} autoComplete="off" /></Field>;

export const Lines = ({ name, label, hint, optional }: FieldProps & { optional?: boolean }) =>
  <Field label={label} hint={hint}><textarea name={name} required={!optional} /></Field>;

export const Seconds = ({ name, label, least, most, step, first }: FieldProps & { least: number; most: number; step: number; first: number }) =>
  <Field label={label} hint="seconds"><input type="number" inputMode="decimal" name={name} min={least} max={most} step={step} defaultValue={first} required /></Field>;

interface OneProps extends FieldProps { readonly list: readonly (readonly [value: string, words: string])[]; readonly change?: (value: string) => void; readonly first?: string }
export const One = ({ name, label, hint, list, change, first }: OneProps) => (
  <Field label={label} hint={hint}>
    <select name={name} required defaultValue={first ?? ''} onChange={change && ((e) => change(e.target.value))}>
      {first === undefined && <option value="" disabled>Choose</option>}
      {list.map(([value, words]) => <option key={value} value={value}>{capital(words)}</option>)}
    </select>
  </Field>
);

export const Some = ({ name, label, list }: FieldProps & { list: readonly (readonly [string, string])[] }) => (
  <fieldset className="field some">
    <legend>{label}</legend>
    <div className="ticks">
      {list.map(([value, words]) => <label key={value} className="tick"><input type="checkbox" name={name} value={value} /><span>{capital(words)}</span></label>)}
    </div>
  </fieldset>
);

/** Words for another way to do it, and the movement it is, where there is one. */
export const Way = ({ name, label, hint, movements }: FieldProps & { movements: readonly Movement[] }) => (
  <div className="row">
    <Line name={name} label={label} max={60} {...(hint === undefined ? {} : { hint })} />
    <Field label={`${label}: the movement it is`}>
      <select name={`${name}-to`} defaultValue="">
        <option value="">None, only the words</option>
        {movements.map((m) => <option key={m.id} value={m.id}>{m.name}</option>)}
      </select>
    </Field>
  </div>
);
