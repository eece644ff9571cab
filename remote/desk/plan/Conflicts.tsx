/** Owns what two changed otherwise, side by side in words: one or the other is taken for each. Leaves alone what becomes of it. */
import { useId } from 'react';
import type { Library } from '../../../shared/movement/movement.ts';
import type { Chosen, Conflict, Whose } from '../../../shared/plan/merge.ts';
import { conflictWords } from './conflict-words.ts';
import './conflicts.css';

interface Props {
  readonly conflicts: readonly Conflict[];
  readonly library: Library;
  readonly chosen: Chosen;
  readonly choose: (chosen: Chosen) => void;
  /** Whose they are, in words that begin a line. */
  readonly mine: string;
  readonly theirs: string;
}

export function Conflicts({ conflicts, library, chosen, choose, mine, theirs }: Props) {
  const group = useId();
  const all = (whose: Whose) => choose(Object.fromEntries(conflicts.map((c) => [c.at, whose])));
  return (
    <div className="conflicts">
      {conflicts.length > 1 && (
        <p className="conflicts-all"><button type="button" className="link" onClick={() => all('mine')}>{mine} in all {conflicts.length}</button> <button type="button" className="link" onClick={() => all('theirs')}>{theirs} in all {conflicts.length}</button></p>
      )}
      {conflicts.map((c) => {
        const words = conflictWords(c, library);
        return (
          <fieldset key={c.at} className="conflict" data-chosen={chosen[c.at]}>
            <legend><b>{words.where}</b>{words.was && <span>, before: <bdi>{words.was}</bdi></span>}</legend>
            {([['mine', mine, words.mine], ['theirs', theirs, words.theirs]] as const).map(([whose, name, value]) => (
              <label key={whose} data-taken={chosen[c.at] === whose}>
                <input type="radio" name={`${group}${c.at}`} checked={chosen[c.at] === whose} onChange={() => choose({ ...chosen, [c.at]: whose })} />
                <span><small>{name}</small> <bdi>{value}</bdi></span>
              </label>
            ))}
          </fieldset>
        );
      })}
    </div>
  );
}
