/** Owns the boxes to tick: what a movement has to be to be shown. */
import { areas, needs, patterns, positions } from '../../shared/movement/movement.ts';
import { type Choice, type Group, everything, ticked, toggled } from './filter.ts';
import { capital, impactWords, needWords, positionWords, sidesWords, suitWords } from './words.ts';

const floorFirst = ['standing', 'chair', 'floor', ...positions.filter((p) => p !== 'standing' && p !== 'chair')] as const;
const whereWords = { ...positionWords, floor: 'on the floor' };

interface FiltersProps { readonly choice: Choice; readonly choose: (choice: Choice) => void }

export function Filters({ choice, choose }: FiltersProps) {
  function boxes<G extends Group>(group: G, legend: string, list: readonly Choice[G][number][], word: (one: Choice[G][number]) => string) {
    const chosen: readonly unknown[] = choice[group];
    return (
      <fieldset key={group}>
        <legend>{legend}</legend>
        <div className="ticks">
          {list.map((one) => (
            <label key={one} className="tick">
              <input type="checkbox" checked={chosen.includes(one)} onChange={() => choose(toggled(choice, group, one))} />
              <span>{capital(word(one))}</span>
            </label>
          ))}
        </div>
      </fieldset>
    );
  }
  const keys = <K extends string>(record: Record<K, string>) => Object.keys(record) as K[];
  return (
    <div className="filters">
      {ticked(choice) > 0 && <button type="button" className="control" onClick={() => choose({ ...everything, text: choice.text })}>Untick all {ticked(choice)}</button>}
      {boxes('where', 'Position', floorFirst, (w) => whereWords[w])}
      {boxes('needs', 'Has an option for', needs, (n) => needWords[n])}
      {boxes('impact', 'Impact', keys(impactWords), (i) => impactWords[i])}
      {boxes('suits', 'Suits', keys(suitWords), (s) => suitWords[s])}
      {boxes('sides', 'Sides', keys(sidesWords), (s) => sidesWords[s])}
      {boxes('pattern', 'Pattern', patterns, (p) => p)}
      {boxes('areas', 'Areas', areas, (a) => a)}
    </div>
  );
}
