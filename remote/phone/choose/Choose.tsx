/** Owns choosing what to teach: the studio's plans with their lengths, and what is wrong with those that cannot run. */
import { useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import type { PlanSummary } from '../../../shared/wire/http.ts';
import type { Library } from '../../common/library.ts';
import { groupWords, minutes } from '../../common/plan-words.ts';
import { linkWords } from '../class/link-words.ts';
import { RoomName } from '../../common/RoomName.tsx';
import { Edge } from '../../../shared/ui/Edge.tsx';
import { SoundLine } from '../sound/SoundLine.tsx';
import { PlanPage } from './PlanPage.tsx';
import { useDue } from './use-due.ts';
import { usePlans } from './use-plans.ts';

export function Choose({ room, library }: { room: Room; library: Library }) {
  const [got, again] = usePlans();
  const [chosen, setChosen] = useState<PlanSummary | null>(null);
  useDue({ room: room.about?.room.id, timeZone: room.about?.studio.timeZone, idle: chosen === null, open: setChosen });
  const trouble = linkWords(room.link);
  return (
    <main className="page choose">
      <header className="top">
        <div className="top-line"><RoomName name={room.about?.room.name ?? ''} /><a className="more" href="/desk">Log</a></div>
        <Edge pattern={room.about?.room.pattern ?? 0} />
        {trouble && <p className="trouble" role="status">{trouble}</p>}
      </header>
      {chosen ? <PlanPage room={room} library={library} summary={chosen} onBack={() => setChosen(null)} /> : (
        <section className="page-body">
          <h2>Which class?</h2>
          <SoundLine />
          {!got && <p className="quiet-words">One moment.</p>}
          {got && 'problem' in got && (
            <><p className="sentence" role="alert">{got.problem}</p><button type="button" className="control" onClick={again}>Ask again</button></>
          )}
          {got && 'ok' in got && (
            <PlanList plans={got.ok.plans} onChoose={setChosen} />
          )}
          {got && 'ok' in got && got.ok.broken.length > 0 && (
            <p className="quiet-words">{got.ok.broken.length === 1 ? 'One plan file cannot be read.' : `${got.ok.broken.length} plan files cannot be read.`} <a href="/desk">The desk says why.</a></p>
          )}
        </section>
      )}
    </main>
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
