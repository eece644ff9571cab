/** Owns the phone at the doors: the studio's plans, the door check, what a bad minute needs, other rooms. */
import { useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { missingIn } from '../../../shared/wire/emergency.ts';
import type { PlanSummary } from '../../../shared/wire/http.ts';
import type { Library } from '../../common/library.ts';
import { groupWords, minutes } from '../../common/plan-words.ts';
import { DoorCheck } from '../door/DoorCheck.tsx';
import { EmergencyForm } from '../door/EmergencyForm.tsx';
import { type Checked, checkedWords } from '../door/steps.ts';
import { Head } from '../head/Head.tsx';
import { KeysPart } from '../keys/KeysPart.tsx';
import { OtherRooms } from '../rooms/OtherRooms.tsx';
import type { Free } from './FreeAt.tsx';
import { SoundLine } from '../sound/SoundLine.tsx';
import { PlanPage } from './PlanPage.tsx';
import { useDue } from './use-due.ts';
import { usePlans } from './use-plans.ts';

export function Choose({ room, library }: { room: Room; library: Library }) {
  const [chosen, setChosen] = useState<PlanSummary | null>(null);
  const [page, setPage] = useState<'plans' | 'door' | 'emergency'>('plans');
  const [checked, setChecked] = useState<Checked>({});
  const [free, setFree] = useState<Free>({ how: 'none' });
  const back = () => setPage('plans');
  useDue({
    room: room.about?.room.id, timeZone: room.about?.studio.timeZone, idle: chosen === null && page === 'plans',
    open: (plan, until) => { setFree(until); setChosen(plan); },
  });
  return (
    <main className="page choose">
      <Head room={room}><a className="more" href="/desk">Log</a></Head>
      {chosen ? <PlanPage room={room} library={library} summary={chosen} free={free} onFree={setFree} onBack={() => setChosen(null)} />
        : page === 'door' ? <DoorCheck room={room} checked={checked} onChecked={setChecked} free={free} onFree={setFree} onDone={back} />
          : page === 'emergency' ? <EmergencyForm room={room} onDone={back} />
            : <Plans room={room} checked={checked} onChoose={setChosen} onPage={setPage} />}
    </main>
  );
}

interface PlansProps {
  readonly room: Room;
  readonly checked: Checked;
  readonly onChoose: (plan: PlanSummary) => void;
  readonly onPage: (page: 'door' | 'emergency') => void;
}

function Plans({ room, checked, onChoose, onPage }: PlansProps) {
  const [got, again] = usePlans();
  const missing = room.about ? missingIn(room.about.people.emergency) : [];
  const words = checkedWords(checked);
  return (
    <section className="page-body">
      <div className="door-ways">
        <button type="button" className="control" onClick={() => onPage('door')}>Door check</button>
        <button type="button" className="control" onClick={() => onPage('emergency')}>For a bad minute</button>
        {words && <p className="quiet-words">{words}.</p>}
        {missing.length > 0 && <p className="quiet-words">For a bad minute, {missing.length} {missing.length === 1 ? 'thing is' : 'things are'} not written down yet.</p>}
      </div>
      <h2>Which class?</h2>
          <SoundLine />
      {!got && <p className="quiet-words">One moment.</p>}
      {got && 'problem' in got && (
        <><p className="sentence" role="alert">{got.problem}</p><button type="button" className="control" onClick={again}>Ask again</button></>
      )}
      {got && 'ok' in got && <PlanList plans={got.ok.plans} onChoose={onChoose} />}
      {got && 'ok' in got && got.ok.broken.length > 0 && (
        <p className="quiet-words">{got.ok.broken.length === 1 ? 'One plan file cannot be read.' : `${got.ok.broken.length} plan files cannot be read.`} <a href="/desk">The desk says why.</a></p>
      )}
      <KeysPart />
      <OtherRooms />
    </section>
  );
}

export function PlanList({ plans, onChoose }: { plans: readonly PlanSummary[]; onChoose: (plan: PlanSummary) => void }) {
  if (plans.length === 0) return <p>The studio has no class plans yet.</p>;
  return (
    <ul className="plans">
      {plans.map((plan) => (
        <li key={plan.id}>
          <button type="button" className="plan" disabled={plan.problem !== null} onClick={() => onChoose(plan)}>
            <b>{plan.name}</b>
            <span>{minutes(plan.lengthMs)}{groupWords[plan.group] ? `, ${groupWords[plan.group]}` : ''}</span>
            {plan.problem && <em>{plan.problem}</em>}
          </button>
        </li>
      ))}
    </ul>
  );
}
