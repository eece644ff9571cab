/** Owns one plan that comes back from home: what became of it there and here, and whether it is taken. */
import { useMemo } from 'react';
import { differencesOf } from '../../../shared/coach/differences.ts';
import type { Came } from '../../../shared/home/compare.ts';
import { together } from '../../../shared/home/compare.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import { headDifferences } from '../plan/conflict-words.ts';
import { Conflicts } from '../plan/Conflicts.tsx';
import { editAt } from '../plan/make.ts';
import { mayBring, outcome, type Row } from './bring.ts';

/** Differences that are told at most; the plan itself has them all. */
const TOLD_MOST = 8;
const says: Record<Came['is'], string> = {
  alike: '', 'changed here': '',
  'changed at home': 'Changed at home only.',
  'changed at both': 'Changed at home and here.',
  new: 'Begun at home.',
  'new beside': 'Begun at home. Another plan here has its place, so it comes in beside that one.',
  'put away here': 'Changed at home, and put into the bin here meanwhile.',
  'put away at home': 'Put into the bin at home. Here it stands.',
};
const offers: Record<Came['is'], string> = {
  alike: '', 'changed here': '', 'changed at home': 'bring it back', 'changed at both': 'bring them together', new: 'bring it in', 'new beside': 'bring it in',
  'put away here': 'let it stand here again, as it is at home', 'put away at home': 'put it into the bin here too',
};

export function BroughtRow({ row, library, set }: { row: Row; library: Library; set: (row: Row) => void }) {
  const { came, home, chosen, done, problem, wanted } = row;
  const merged = useMemo(() => (came.is === 'changed at both' ? together(came, home, chosen) : null), [came, home, chosen]);
  const told = useMemo(() => {
    const after = came.is === 'changed at both' ? merged?.plan : came.is === 'changed at home' ? home.now : null;
    return after && 'here' in came ? [...headDifferences(came.here, after, library), ...differencesOf(came.here, after, library)] : [];
  }, [came, home, merged, library]);
  return (
    <li className="brought-row" data-is={came.is} data-done={done !== null}>
      <h3 dir="auto">{home.now.name}</h3>
      {done ? <p role="status"><b>{done.says}</b> {done.id && <a href={editAt(done.id)}>Open it</a>}</p> : (
        <>
          <p>{says[came.is]}{merged && merged.conflicts.length === 0 && ' Nothing of it clashes.'}{merged && merged.conflicts.length > 0 && ` ${merged.conflicts.length === 1 ? 'One thing is' : `${merged.conflicts.length} things are`} otherwise at both: take one of each. The other is kept under Former versions.`}</p>
          {merged && merged.conflicts.length > 0 && wanted && <Conflicts conflicts={merged.conflicts} library={library} chosen={chosen} choose={(next) => set({ ...row, chosen: next })} mine="At home" theirs="Here" />}
          {told.length > 0 && wanted && (outcome(row) !== null || merged === null) && (
            <details open={told.length <= 3}><summary>What will be otherwise here ({told.length})</summary>
              <ul className="dashes">{told.slice(0, TOLD_MOST).map((t) => <li key={t}>{t}</li>)}{told.length > TOLD_MOST && <li>and {told.length - TOLD_MOST} more.</li>}</ul></details>
          )}
          {problem && <p className="sentence" role="alert">{problem}</p>}
          {mayBring(row) && <label className="check"><input type="checkbox" checked={wanted} onChange={() => set({ ...row, wanted: !wanted })} /> {offers[came.is]}</label>}
        </>
      )}
    </li>
  );
}
