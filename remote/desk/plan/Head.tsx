/** Owns the head of a plan: its name, who comes, the slot, its note, whether it is kept, and undo. */
import { useContext } from 'react';
import { CLASS_MOST_S, NAME_MAX, NOTE_MAX } from '../../../shared/limits.ts';
import { groupWords } from '../../../shared/coach/groups.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import { groups, type Plan } from '../../../shared/plan/plan.ts';
import { AtHome, readAt } from '../../common/at-home.ts';
import { rehearsalOf } from '../../common/plan-words.ts';
import { AskWhose } from './AskWhose.tsx';
import { type Draft, inPlan } from './draft.ts';
import { NumberField, Pick } from './fields.tsx';
import { homeAt } from './make.ts';
import type { Keeper } from './saving.ts';
import { PairHere } from './PairHere.tsx';
import { SeriesFields } from './SeriesFields.tsx';

interface Props { readonly draft: Draft; readonly keeper: Keeper; readonly own: boolean; readonly library: Library }

export function Head({ draft: { plan, edit, undo, redo }, keeper, own, library }: Props) {
  const home = useContext(AtHome);
  return (
    <header className="plan-head">
      <div className="plan-top">
        <p className="plan-links no-print">
          {home ? <><a href="/desk/plans">All plans</a> <a href={readAt(plan.id)}>Read</a></> : <a href="/desk">The desk</a>} <a href={rehearsalOf(plan.id)}>Rehearse</a>
          {!home && <> <a href={`/desk/plans/${plan.id}/next`}>Next session</a> <a href={homeAt(plan.id)}>Take home</a></>} <a href={`/api/plans/${plan.id}/file`} download>As a file</a> <button type="button" className="link" onClick={() => window.print()}>Print</button>
        </p>
        <p className="plan-tools no-print">
          <SaveWords keeper={keeper} />
          <button type="button" className="control small" disabled={undo === null} onClick={() => undo?.()}>Undo</button>
          <button type="button" className="control small" disabled={redo === null} onClick={() => redo?.()}>Redo</button>
        </p>
      </div>
      {keeper.others > 0 && <p className="told no-print" role="status">{keeper.others === 1 ? 'Somebody else writes this plan now.' : `${keeper.others} others write this plan now.`} What each of you changes is brought together.</p>}
      {keeper.came.length > 0 && <p className="told no-print" role="status">Came from somebody else: {keeper.came.join(', ')}.</p>}
      {keeper.state.is === 'not saved' && keeper.state.pair && <PairHere done={keeper.again} />}
      {keeper.state.is === 'asked' && <AskWhose plan={plan} from={keeper.state.from} theirs={keeper.state.theirs.theirs} library={library} settle={keeper.settle} />}
      <label className="plan-name"><span className="unseen">Name of the plan</span>
        <input value={plan.name} maxLength={NAME_MAX} onChange={(e) => edit(inPlan({ name: e.target.value }), 'name')} dir="auto" />
      </label>
      <div className="plan-about">
        <Pick<Plan['group']> label="Who comes" value={plan.group} list={groups.map((g) => [g, groupWords[g]] as const)} set={(g) => edit(inPlan({ group: g === '' ? 'general' : g }))} />
        <NumberField label="Slot" unit="min" value={plan.slot === undefined ? undefined : plan.slot / 60} least={1} most={CLASS_MOST_S / 60} whole empty="none" set={(n) => edit(inPlan({ slot: n === undefined ? undefined : n * 60 }), 'slot')} />
        <SeriesFields series={plan.series} name={plan.name} set={(series, field) => edit(inPlan({ series }), field)} />
        <label className="num grow"><span>Note for whoever teaches</span>
          <input value={plan.note ?? ''} maxLength={NOTE_MAX} dir="auto" onChange={(e) => edit(inPlan({ note: e.target.value === '' ? undefined : e.target.value }), 'note')} />
        </label>
      </div>
      {!own && keeper.state.is === 'saved' && <p className="quiet-words no-print">This plan came with Hallclock. What you change is kept as the studio’s own.</p>}
    </header>
  );
}

function SaveWords({ keeper: { state, again } }: { keeper: Keeper }) {
  switch (state.is) {
    case 'saved': return <span className="save-words" role="status" data-is="saved">Saved</span>;
    case 'saving': case 'waiting': return <span className="save-words" role="status" data-is="saving">Saving</span>;
    case 'asked': return <span className="save-words" role="status" data-is="not">Not saved: choose whose stays</span>;
    case 'not saved': return <span className="save-words" role="status" data-is="not">Not saved. {state.pair ? 'This browser may only look.' : state.why} {!state.pair && !state.why.startsWith('Not yet') && <button type="button" className="link" onClick={again}>Try again</button>}</span>;
  }
}
