/** Owns starting a plan by typing it as on paper: the text, what was understood beside it, and questions about the rest. */
import { useDeferredValue, useEffect, useMemo, useRef, useState } from 'react';
import { sums } from '../../../shared/coach/sums.ts';
import { type Ask, answer, type Choice, typed } from '../../../shared/coach/typed/typed.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import { compile } from '../../../shared/plan/compile.ts';
import { Floor } from '../../../shared/ui/Floor.tsx';
import { floorOf } from '../../../shared/view/floor.ts';
import { sectionName } from '../../../shared/view/words.ts';
import { movementsSchema, plansSchema } from '../../../shared/wire/http.ts';
import { libraryOf } from '../../common/library.ts';
import { useGet } from '../../common/use-get.ts';
import { makePlan } from './make.ts';
import { PairHere } from './PairHere.tsx';
import { clockWords, workWords } from './words.ts';

const example = 'warm up follow me 5 min: march, arm circles, side step\nmain 3 rounds, 40/20: squat, row, plank 30 a side\ncool down 30 s: calf stretch, child pose';

/** What was typed stays when somebody looks at another page and comes back. */
const KEY = 'hallclock-typed';
function leftText(): string {
  try { return sessionStorage.getItem(KEY) ?? ''; } catch { return ''; }
}

export function TypedPage({ name }: { name: string }) {
  const [movements] = useGet('/api/movements', movementsSchema);
  const [plans] = useGet('/api/plans', plansSchema);
  const library: Library = useMemo(() => new Map(movements && 'ok' in movements ? movements.ok.movements.map((m) => [m.id, m]) : []), [movements]);
  return <Typed library={library} taken={plans && 'ok' in plans ? plans.ok.plans.map((p) => p.id) : []} name={name} />;
}

function Typed({ library, taken, name }: { library: Library; taken: readonly string[]; name: string }) {
  const [text, setText] = useState(leftText);
  useEffect(() => {
    try { sessionStorage.setItem(KEY, text); } catch { /* a browser that keeps nothing still reads what is typed */ }
  }, [text]);
  const [said, setSaid] = useState<{ problem: string; pair: boolean } | null>(null);
  const area = useRef<HTMLTextAreaElement>(null);
  const read = useDeferredValue(text);
  const got = useMemo(() => typed(read, library), [read, library]);
  const facts = useMemo(() => libraryOf([...library.values()]).facts, [library]);
  const floor = useMemo(() => (got.plan ? floorOf({ intervals: compile(got.plan, facts).intervals }) : null), [got, facts]);
  const lengthMs = got.plan ? sums(got.plan, library).lengthMs : 0;
  const take = (ask: Ask, choice: Choice) => { setText(answer(read, ask, choice)); area.current?.focus(); };
  const make = async () => {
    if (!got.plan) return;
    const called = name.trim() !== '' ? name.trim() : got.plan.name;
    const not = await makePlan({ ...got.plan, name: called.slice(0, 80) }, taken);
    setSaid(not);
    if (not === null) setText('');
  };
  return (
    <main className="desk typed-page">
      <p><a href="/desk/plans">Class plans</a></p>
      <h1>As on paper</h1>
      <p className="quiet-words">Write it as you would on a card. Rounds, 40/20, “3x10”, “every minute”, “a side”, “follow me”, a ladder: it takes what it can and asks about the rest.</p>
      <div className="typed-columns">
        <div className="paper">
          <textarea ref={area} aria-label="The plan as on paper" value={text} maxLength={8_000} rows={12} spellCheck={false} dir="auto" placeholder={example} onChange={(e) => setText(e.target.value)} />
          {text === '' && <p><button type="button" className="link" onClick={() => setText(example)}>Begin with the example</button></p>}
          {got.asks.length > 0 && text !== '' && (
            <ul className="asks">
              {got.asks.map((a) => (
                <li key={`${a.id} ${a.from}`}>
                  <p>{a.sentence} {a.to > a.from && <q>{read.slice(a.from, a.to)}</q>}</p>
                  <p>{a.choices.map((c) => <button key={c.label} type="button" className="control small" onClick={() => take(a, c)}>{c.label}</button>)}</p>
                </li>
              ))}
            </ul>
          )}
        </div>
        <section className="understood" aria-live="polite" aria-label="What was understood">
          <h2>Understood</h2>
          {got.plan && floor ? (
            <>
              <p className="length-line"><b className="big-length">{clockWords(lengthMs)}</b></p>
              <div className="floor-strip"><Floor floor={floor} atMs={0} notch={false} /></div>
              <ol className="read-sections">
                {got.plan.sections.map((s) => (
                  <li key={s.id}>
                    <h3>{sectionName(s)} <small>{[s.talk !== undefined ? `about ${s.talk} s` : '', s.way === 'follow-me' ? 'follow me' : s.way === 'stations' ? 'stations' : '', typeof s.rounds === 'number' ? (s.rounds > 1 ? `${s.rounds} rounds` : '') : 'ladder', s.work !== undefined ? (s.rest ? `${s.work}/${s.rest}` : `${s.work} s`) : ''].filter(Boolean).join(', ')}</small></h3>
                    {s.items.map((item, k) => (
                      // biome-ignore lint/suspicious/noArrayIndexKey: the same move may stand there twice
                      <p key={`${item.movement}${k}`}>{library.get(item.movement)?.name ?? item.movement} <small>{workWords(item, s, library.get(item.movement))}</small></p>
                    ))}
                  </li>
                ))}
              </ol>
              {got.understood.some((u) => u.guessed) && <p className="guesses">Taken to mean: {got.understood.filter((u) => u.guessed).map((u) => <span key={u.from}><q>{read.slice(u.from, u.to)}</q> {u.says}</span>)}</p>}
              <p><button type="button" className="control" onClick={() => void make()}>Make the plan</button></p>
            </>
          ) : <p className="quiet-words">{text === '' ? 'Nothing is written yet.' : 'Nothing yet that makes a class. A move and how long is enough.'}</p>}
          {said && <p className="sentence" role="alert">{said.problem}</p>}
          {said?.pair && <PairHere done={() => setSaid(null)} />}
        </section>
      </div>
    </main>
  );
}
