/** Owns asking, while a plan is written, whose it should be where somebody else changed the same; all else of both stays. */
import { useMemo, useState } from 'react';
import type { Library } from '../../../shared/movement/movement.ts';
import { type Chosen, mergePlans, settled } from '../../../shared/plan/merge.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { Conflicts } from './Conflicts.tsx';

interface Props { readonly plan: Plan; readonly from: Plan; readonly theirs: Plan; readonly library: Library; readonly settle: (chosen: Chosen) => void }

export function AskWhose({ plan, from, theirs, library, settle }: Props) {
  const [chosen, setChosen] = useState<Chosen>({});
  const { conflicts, taken } = useMemo(() => mergePlans(from, plan, theirs, chosen), [from, plan, theirs, chosen]);
  const left = conflicts.filter((c) => chosen[c.at] === undefined).length;
  return (
    <div className="told asked no-print" role="alert">
      <p><b>Somebody else changed this plan meanwhile, and {conflicts.length === 1 ? 'one thing' : `${conflicts.length} things`} otherwise than you.</b> Take one of each; both versions are kept below, under Former versions.{taken.length > 0 && ' All else of both is brought together.'}</p>
      <Conflicts conflicts={conflicts} library={library} chosen={chosen} choose={setChosen} mine="Yours" theirs="Theirs" />
      <p><button type="button" className="control small" disabled={!settled(conflicts, chosen)} onClick={() => settle(chosen)}>Keep it so</button>{left > 0 && <span className="quiet-words"> {left === 1 ? 'One is' : `${left} are`} not taken yet.</span>}</p>
    </div>
  );
}
