/** Owns the timetable at the desk: which plan runs when in which room, week by week, and its calendar. */
import { useEffect, useState } from 'react';
import { clashes, type Entry, occurrences } from '../../../shared/plan/timetable.ts';
import { plansSchema } from '../../../shared/wire/http.ts';
import { type TimetableBody, timetableBodySchema } from '../../../shared/wire/plans.ts';
import { dayAfter } from '../../../shared/time/wall.ts';
import { housesSchema } from '../../../shared/wire/house.ts';
import { useGet } from '../../common/use-get.ts';
import { OnlyWithPassword } from '../door/OnlyWithPassword.tsx';
import { DeskNav } from '../review/DeskNav.tsx';
import { NumberField, Pick } from './fields.tsx';
import { editAt } from './make.ts';
import { PairHere } from './PairHere.tsx';
import { send } from './saving.ts';

const dayName = (day: string, how: 'long' | 'short'): string => new Intl.DateTimeFormat('en-GB', { weekday: how, day: 'numeric', month: 'short', timeZone: 'UTC' }).format(Date.parse(`${day}T00:00Z`)).replace(',', '');
const DAYS = 14;

/** @param house the one whose timetable is made here at the chain; null for the studio's own */
export function TimetablePage({ house }: { house: string | null }) {
  const at = house === null ? '/api/timetable' : `/api/desk/houses/${encodeURIComponent(house)}/timetable`;
  const [got, again] = useGet(at, timetableBodySchema);
  const [houses] = useGet(house === null ? null : '/api/desk/houses', housesSchema);
  const [plans] = useGet('/api/plans', plansSchema);
  const [body, setBody] = useState<TimetableBody | null>(null);
  const [said, setSaid] = useState<{ problem: string; pair: boolean } | null>(null);
  useEffect(() => { if (got && 'ok' in got) setBody(got.ok); }, [got]);
  const list = plans && 'ok' in plans ? plans.ok.plans : [];
  const nameOf = (id: string): string => list.find((p) => p.id === id)?.name ?? id;
  const keep = async (entries: readonly Entry[]) => {
    if (!body) return;
    const answer = await send('PUT', at, timetableBodySchema, { base: body.revision, entries });
    if ('ok' in answer) { setBody(answer.ok); setSaid(null); return; }
    setSaid({ problem: answer.problem, pair: answer.status === 403 && house === null });
    if (answer.status === 409) again();
  };
  const days = body ? Array.from({ length: DAYS }, (_, k) => dayAfter(body.today, k)) : [];
  const all = body ? occurrences(body.entries, body.today, DAYS, body.timeZone) : [];
  const clash = body ? clashes(body.entries, body.today, body.timeZone)[0] : undefined;
  return (
    <main className="desk timetable-page">
      <DeskNav here="/desk/timetable" />
      <h1>{house === null ? 'Timetable' : `Timetable of ${houses && 'ok' in houses ? houses.ok.houses.find((h) => h.id === house)?.name ?? house : house}`}</h1>
      <p className="quiet-words">{house === null ? <>The phone of a room opens on the class that is due. <a href="/api/timetable.ics">As a calendar</a>, half a year ahead.</>
        : <>It goes to the house by itself, and stands there beside what the house puts in. Days and times are those of its walls. <a href="/desk/houses">Houses</a></>}</p>
      {got && 'problem' in got && <p className="sentence" role="alert">{got.problem}</p>}
      {got && 'problem' in got && got.status === 403 && house !== null && <OnlyWithPassword />}
      {said && <p className="sentence" role="alert">{said.problem}</p>}
      {said?.pair && <PairHere done={() => setSaid(null)} />}
      {clash && <p className="told" role="status">Two classes want {body?.rooms.find((r) => r.id === clash.one.entry.room)?.name} on {dayName(clash.one.day, 'long')}: “{nameOf(clash.one.entry.plan)}” at {clash.one.entry.at} and “{nameOf(clash.other.entry.plan)}” at {clash.other.entry.at}.</p>}
      {body && list.length > 0 && <AddLine body={body} plans={list} add={(e) => void keep([...body.entries, e])} />}
      {body && (
        <ol className="days">
          {days.map((d) => (
            <li key={d} data-empty={!all.some((o) => o.day === d)}>
              <h2>{dayName(d, 'long')}{d === body.today ? ', today' : ''}</h2>
              <ul>
                {all.filter((o) => o.day === d).map(({ entry: e }) => (
                  <li key={e.id}>
                    <time>{e.at}</time>
                    <span><a href={editAt(e.plan)}><b dir="auto">{nameOf(e.plan)}</b></a> <span>{body.rooms.find((r) => r.id === e.room)?.name ?? e.room}, {e.minutes} min{e.weekly ? ', every week' : ''}</span></span>
                    <span className="plan-acts">
                      {e.weekly && <button type="button" className="link" onClick={() => void keep(body.entries.map((x) => (x.id === e.id ? { ...x, not: [...x.not, d] } : x)))}>Not this day</button>}
                      <button type="button" className="link" aria-label={`Take out: ${nameOf(e.plan)} at ${e.at}`} onClick={() => void keep(body.entries.filter((x) => x.id !== e.id))}>Take out</button>
                    </span>
                  </li>
                ))}
              </ul>
            </li>
          ))}
        </ol>
      )}
    </main>
  );
}

interface AddProps { readonly body: TimetableBody; readonly plans: readonly { readonly id: string; readonly name: string; readonly lengthMs: number }[]; readonly add: (entry: Entry) => void }

function AddLine({ body, plans, add }: AddProps) {
  const [plan, setPlan] = useState(plans[0]?.id ?? '');
  const [room, setRoom] = useState(body.rooms[0]?.id ?? '');
  const [day, setDay] = useState(body.today);
  const [at, setAt] = useState('18:30');
  const usual = Math.max(5, Math.ceil((plans.find((p) => p.id === plan)?.lengthMs ?? 0) / 300_000) * 5);
  const [minutes, setMinutes] = useState<number | undefined>(undefined);
  const [weekly, setWeekly] = useState(true);
  const free = (): string => {
    const base = `${plan}-${at.replace(':', '')}`.slice(0, 50);
    for (let n = 1; ; n += 1) { const id = n === 1 ? base : `${base}-${n}`; if (!body.entries.some((e) => e.id === id)) return id; }
  };
  return (
    <form className="section-numbers add-line" onSubmit={(e) => { e.preventDefault(); add({ id: free(), plan, room, day, at, minutes: minutes ?? usual, weekly, not: [] }); }}>
      <Pick label="Plan" value={plan} list={plans.map((p) => [p.id, p.name] as const)} set={setPlan} />
      {body.rooms.length > 1 && <Pick label="Room" value={room} list={body.rooms.map((r) => [r.id, r.name] as const)} set={setRoom} />}
      <label className="num"><span>Day</span><input type="date" value={day} required onChange={(e) => setDay(e.target.value)} /></label>
      <label className="num"><span>At</span><input type="time" value={at} required onChange={(e) => setAt(e.target.value)} /></label>
      <NumberField label="Floor is ours" unit="min" value={minutes ?? usual} least={1} most={240} whole set={setMinutes} />
      <label className="check"><input type="checkbox" checked={weekly} onChange={(e) => setWeekly(e.target.checked)} /> every week</label>
      <button type="submit" className="control">Put it in</button>
    </form>
  );
}
