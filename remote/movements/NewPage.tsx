/** Owns the form for a movement of the studio's own: its words, its properties, its picture; kept in that order. */
import { type FormEvent, useMemo, useState } from 'react';
import { NAME_MAX } from '../../shared/limits.ts';
import { areas, type Movement, needs, patterns, positions } from '../../shared/movement/movement.ts';
import { movementBodySchema, movementsSchema } from '../../shared/wire/http.ts';
import { ask } from '../common/get.ts';
import { useGet } from '../common/use-get.ts';
import { draft } from './draft.ts';
import { Line, Lines, One, Seconds, Some, Way } from './fields.tsx';
import { PictureField } from './PictureField.tsx';
import { sendPicture } from './send.ts';
import { capital, COMPENDIUM, impactWords, needWords, positionWords, sidesWords, suitWords } from './words.ts';

const pairs = (record: Readonly<Record<string, string>>) => Object.entries(record);
const same = (list: readonly string[]) => list.map((w) => [w, w] as const);

/** The codes that our movements are counted under, each with some of them to compare with. */
function intensities(movements: readonly Movement[]): (readonly [string, string])[] {
  const names = new Map<string, { met: number; names: string[] }>();
  for (const { name, intensity: { code, met } } of movements) {
    const known = names.get(code) ?? { met, names: [] };
    names.set(code, { met, names: known.names.length < 3 ? [...known.names, name] : known.names });
  }
  return [...names].sort((a, b) => a[1].met - b[1].met).map(([code, about]) => [`${code} ${about.met}`, `like ${about.names.join(', ')} (${about.met} MET, code ${code})`]);
}

export function NewPage() {
  const [got] = useGet('/api/movements', movementsSchema);
  const known = useMemo(() => (got && 'ok' in got ? [...got.ok.movements].sort((a, b) => (a.name < b.name ? -1 : 1)) : []), [got]);
  const [sides, setSides] = useState('');
  const [held, setHeld] = useState('no');
  const [file, setFile] = useState<File | null>(null);
  const [kept, setKept] = useState<Movement | null>(null);
  const [sending, setSending] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);

  async function send(form: FormData): Promise<string | null> {
    const drafted = kept ? { movement: kept } : draft(form);
    if ('problem' in drafted) return drafted.problem;
    const answer = kept ? { ok: kept } : await ask('/api/movements', movementBodySchema, drafted.movement);
    if ('problem' in answer) return answer.problem;
    setKept(answer.ok);
    const shown = file ? await sendPicture(answer.ok.id, file) : answer;
    if ('problem' in shown) return `The words are kept. The picture is not: ${shown.problem}`;
    window.location.assign(`/movements#${answer.ok.id}`);
    return null;
  }
  function submit(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    setSending(true);
    setProblem(null);
    void send(new FormData(event.currentTarget)).then(setProblem).finally(() => setSending(false));
  }

  return (
    <main className="desk movements-new">
      <header className="report">
        <p><a href="/movements">All movements</a></p>
        <h1>A movement of your own</h1>
        <p>Only a browser that is paired may keep one. If this one is not yet, open <a href="/phone" target="_blank" rel="noreferrer">the phone page</a> in it and type the six digits that the screen shows; what is filled in here stays.</p>
      </header>
      <form className="form" onSubmit={submit}>
        <fieldset disabled={kept !== null}>
          <legend>Words</legend>
          <Line name="name" label="Name" max={NAME_MAX} />
          <Line name="otherNames" label="Other names" hint="With commas between; may be empty" max={300} optional />
          <Line name="setUp" label="Set-up" hint="How to get into it" max={120} />
          <Lines name="action" label="Action" hint="What the body does, up to 200 letters" />
          <Lines name="cues" label="Cues" hint="What you say: two to four, one a line, up to 40 letters each" />
          <Lines name="lookFor" label="Look for" hint="Faults to see: one to four, one a line" />
          <Way name="option" label="Option" hint="A way that asks less" movements={known} />
          <Way name="build" label="Build" hint="A way that asks more" movements={known} />
        </fieldset>
        <fieldset disabled={kept !== null}>
          <legend>What it is</legend>
          <div className="row">
            <One name="start" label="Begins" list={positions.map((p) => [p, positionWords[p]])} />
            <One name="end" label="Ends" list={positions.map((p) => [p, positionWords[p]])} />
            <One name="pattern" label="Pattern" list={same(patterns)} />
            <One name="impact" label="Impact" list={pairs(impactWords)} />
            <One name="sides" label="Sides" list={pairs(sidesWords)} change={setSides} />
            <One name="held" label="Repeated or held" list={[['no', 'repeated'], ['yes', 'held']]} first="no" change={setHeld} />
            {held === 'no' && <Seconds name="tempoS" label="Seconds for one" least={0.5} most={20} step={0.1} first={3} />}
            <Seconds name="leastS" label="Worth doing for at least" least={3} most={120} step={1} first={20} />
          </div>
          {sides === 'each' && (
            <div className="row">
              <Line name="left" label="Words for the left" hint={'As you say it: "left leg back"'} max={40} />
              <Line name="right" label="Words for the right" hint={'As you say it: "right leg back"'} max={40} />
            </div>
          )}
          <Some name="suits" label="Suits" list={pairs(suitWords)} />
          <Some name="areas" label="Areas, up to four" list={same(areas)} />
          <One name="intensity" label="Intensity" hint={`As in the ${COMPENDIUM}`} list={intensities(known)} />
        </fieldset>
        <fieldset disabled={kept !== null}>
          <legend>For needs</legend>
          <p>What somebody does instead who said so at the door. “As shown” where it suits them; empty means: ask, or leave it out.</p>
          <div className="row">{needs.map((n) => <Line key={n} name={`need-${n}`} label={capital(needWords[n])} max={60} optional />)}</div>
          <Lines name="askFirst" label="Ask first" hint="Who should ask before doing it, one a line; may be empty" optional />
        </fieldset>
        <fieldset>
          <legend>In place of the figure</legend>
          <PictureField file={file} choose={setFile} />
        </fieldset>
        {problem && <p className="sentence" role="alert">{problem}</p>}
        <div className="row">
          <button type="submit" className="control" disabled={sending} data-state={sending ? 'sending' : undefined}>{kept ? 'Send the picture again' : 'Keep this movement'}</button>
          {kept && <a className="control" href={`/movements#${kept.id}`}>Leave it without</a>}
        </div>
      </form>
    </main>
  );
}
