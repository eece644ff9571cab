/** Owns the page where a studio settles what the chain and it changed otherwise: plans thing by thing, the timetable line by line. */
import '../plan/plan.css';
import { useEffect, useMemo, useState } from 'react';
import type { Library } from '../../../shared/movement/movement.ts';
import { type Chosen, type Conflict, mergePlans, settled } from '../../../shared/plan/merge.ts';
import type { Entry } from '../../../shared/plan/timetable.ts';
import { type ConflictsHere, conflictsHereSchema, type Settle } from '../../../shared/wire/house.ts';
import { plansSchema } from '../../../shared/wire/http.ts';
import { timetableBodySchema } from '../../../shared/wire/plans.ts';
import { ask } from '../../common/get.ts';
import { useLibrary } from '../../common/library.ts';
import { useGet } from '../../common/use-get.ts';
import { AtTheDesk } from '../door/AtTheDesk.tsx';
import { Conflicts } from '../plan/Conflicts.tsx';
import { editAt } from '../plan/make.ts';
import { DeskNav } from '../review/DeskNav.tsx';

type PlanWaits = ConflictsHere['plans'][number];
type LineWaits = ConflictsHere['lines'][number];
/** Resolves with a sentence where it could not be done. */
type Send = (chosen: Settle) => Promise<string | null>;

export default function FromChain() {
  return <AtTheDesk><Settling /></AtTheDesk>;
}

function Settling() {
  const [got, again] = useGet('/api/chain/conflicts', conflictsHereSchema);
  const [plans] = useGet('/api/plans', plansSchema);
  const [timetable] = useGet('/api/timetable', timetableBodySchema);
  const library = useLibrary(null);
  const [left, setLeft] = useState<ConflictsHere | null>(null);
  const [changed, setChanged] = useState('');
  useEffect(() => { if (got && 'ok' in got) setLeft(got.ok); }, [got]);
  const send: Send = async (chosen) => {
    const answer = await ask('/api/chain/settle', conflictsHereSchema, chosen);
    // What is shown next is something else than what it was said of: the sentence stands above all of it.
    const meanwhile = 'problem' in answer && answer.status === 409;
    setChanged(meanwhile ? answer.problem : '');
    if ('ok' in answer) setLeft(answer.ok);
    if (meanwhile) again();
    return 'ok' in answer || meanwhile ? null : answer.problem;
  };
  const planName = (id: string): string => (plans && 'ok' in plans ? plans.ok.plans.find((p) => p.id === id)?.name : undefined) ?? id;
  const roomName = (id: string): string => (timetable && 'ok' in timetable ? timetable.ok.rooms.find((r) => r.id === id)?.name : undefined) ?? id;
  const none = left !== null && left.plans.length + left.lines.length === 0;
  return (
    <main className="desk">
      <DeskNav here={null} />
      <header>
        <h1>From the chain</h1>
        <p>{none ? 'Nothing waits here. What the chain plans is brought together with what this studio changes, by itself.'
          : 'The chain changed these, and this studio changed the same things otherwise. They are as they are here until you choose.'}</p>
      </header>
      {got && 'problem' in got && <p className="sentence" role="alert">{got.problem}</p>}
      {changed !== '' && <p className="sentence" role="alert">{changed}</p>}
      {left?.plans.map((p) => <OnePlan key={JSON.stringify([p.theirs, p.ours])} waits={p} library={library.movements} send={send} />)}
      {left?.lines.map((l) => <OneLine key={JSON.stringify(l)} waits={l} name={planName} room={roomName} send={send} />)}
      {none && <p><a href="/desk">To the log</a></p>}
    </main>
  );
}

interface AskProps { readonly title: string; readonly href: string; readonly note: string; readonly conflicts: readonly Conflict[]; readonly library: Library; readonly keep: (chosen: Chosen) => Promise<string | null>; readonly chosen: Chosen; readonly choose: (chosen: Chosen) => void }

function Asked({ title, href, note, conflicts, library, keep, chosen, choose }: AskProps) {
  const [said, setSaid] = useState('');
  const [busy, setBusy] = useState(false);
  const left = conflicts.filter((c) => chosen[c.at] === undefined).length;
  const send = async () => {
    setBusy(true);
    setSaid(await keep(chosen) ?? '');
    setBusy(false);
  };
  return (
    <section className="waits-here">
      <h2><a href={href} dir="auto">{title}</a></h2>
      <p>{note}</p>
      <Conflicts conflicts={conflicts} library={library} chosen={chosen} choose={choose} mine="Here" theirs="The chain" />
      <p className="sentence" role="status">{said}</p>
      <p><button type="button" className="control" data-pressed="true" aria-label={`Keep it so: ${title}`} disabled={busy || !settled(conflicts, chosen)} onClick={() => { void send(); }}>Keep it so</button>{left > 0 && conflicts.length > 1 && <span className="quiet-words"> {left === 1 ? 'One is' : `${left} are`} not taken yet.</span>}</p>
    </section>
  );
}

function OnePlan({ waits: { base, ours, theirs }, library, send }: { waits: PlanWaits; library: Library; send: Send }) {
  const [chosen, choose] = useState<Chosen>({});
  const conflicts = useMemo((): readonly Conflict[] => (base ? mergePlans(base, ours, theirs, chosen).conflicts
    : [{ at: 'whole', where: 'the plan as a whole', field: 'whole', base: undefined, mine: ours, theirs }]), [base, ours, theirs, chosen]);
  return <Asked title={ours.name} href={editAt(ours.id)} library={library} conflicts={conflicts} chosen={chosen} choose={choose}
    note={base ? 'All else that either changed is brought together. Both versions are kept, under Former versions of the plan.' : 'The chain and this studio each made a plan of this name. The other one is kept, under Former versions of the plan.'}
    keep={(c) => send({ kind: 'plan', ours, theirs, chosen: c })} />;
}

const dayWords = (day: string, how: Intl.DateTimeFormatOptions): string => new Intl.DateTimeFormat('en-GB', { ...how, timeZone: 'UTC' }).format(Date.parse(`${day}T00:00Z`));
const short = { day: 'numeric', month: 'short' } as const;
/** "Mondays at 18:00 from 5 Jan, 45 min, Garden room": a line as it is said. */
function lineWords(e: Entry | null, name: (plan: string) => string, room: (id: string) => string): string {
  if (!e) return 'Taken out';
  const weekday = dayWords(e.day, { weekday: 'long' });
  const when = e.weekly ? `${weekday}s at ${e.at} from ${dayWords(e.day, short)}` : `${weekday} ${dayWords(e.day, short)} at ${e.at}`;
  return [`${name(e.plan)}: ${when}`, e.until === undefined ? '' : `until ${dayWords(e.until, short)}`, `${e.minutes} min`, room(e.room), e.not.length > 0 ? `not on ${e.not.map((d) => dayWords(d, short)).join(', ')}` : ''].filter(Boolean).join(', ');
}

function OneLine({ waits: { id, ours, theirs }, name, room, send }: { waits: LineWaits; name: (plan: string) => string; room: (id: string) => string; send: Send }) {
  const [chosen, choose] = useState<Chosen>({});
  const there = ours ?? theirs;
  const conflict: Conflict = { at: id, where: 'the line', field: 'line', base: undefined, mine: lineWords(ours, name, room), theirs: lineWords(theirs, name, room) };
  return <Asked title={`${name(there?.plan ?? id)}, ${there ? `${dayWords(there.day, { weekday: 'long' })} ${there.at}` : ''}`} href="/desk/timetable" note="A line of the timetable, which keeps no former versions." library={new Map()} conflicts={[conflict]} chosen={chosen} choose={choose}
    keep={(c) => send({ kind: 'line', id, ours, theirs, whose: c[id] === 'theirs' ? 'theirs' : 'ours' })} />;
}
