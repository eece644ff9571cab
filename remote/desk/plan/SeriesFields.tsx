/** Owns which series a plan is of: the series' name and the plan's number in it. An empty name takes it out of its series. */
import { useRef } from 'react';
import { NAME_MAX, SERIES_MAX } from '../../../shared/limits.ts';
import type { Series } from '../../../shared/plan/plan.ts';
import { NumberField } from './fields.tsx';

interface Props { readonly series: Series | undefined; readonly name: string; readonly set: (series: Series | undefined, field: string) => void }

/** @param name what the series is called where only a number is given: as the plan */
export function SeriesFields({ series, name, set }: Props) {
  // Who empties the name to write another keeps the number.
  const last = useRef(series);
  if (series) last.current = series;
  return (
    <>
      <label className="num series-name"><span>Series</span>
        <input
          value={series?.name ?? ''} placeholder="none" maxLength={NAME_MAX} dir="auto"
          onChange={({ target: { value } }) => set(value.trim() === '' ? undefined : { number: 1, ...last.current, name: value }, 'series.name')}
        />
      </label>
      <NumberField label="Number in it" value={series?.number} least={1} most={SERIES_MAX} whole empty="none" set={(n) => set(n === undefined ? undefined : { ...series, name: series?.name ?? (name.trim() || 'Series'), number: n }, 'series')} />
    </>
  );
}
