/** Owns one movement opened: large and moving, with every word there is about it. */
import { useEffect, useRef, useState } from 'react';
import { type Library, type Movement, needs } from '../../shared/movement/movement.ts';
import { Moving } from './Moving.tsx';
import { AS_SHOWN } from './filter.ts';
import { capital, COMPENDIUM, impactWords, intensityWords, needWords, sidesWords, suitWords, tempoWords, whereWords } from './words.ts';

type Alternative = Movement['option'];

function Way({ to, library }: { to: Alternative; library: Library }) {
  const other = to.movement === undefined ? undefined : library.get(to.movement);
  if (!other) return <>{to.words}</>;
  return <><a href={`#${other.id}`}>{other.name}</a>{other.name.toLowerCase() === to.words.toLowerCase() ? '' : `: ${to.words}`}</>;
}

export function Opened({ movement: m, library, close }: { movement: Movement; library: Library; close: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [side, turn] = useState<'left' | 'right'>('right');
  useEffect(() => { dialog.current?.showModal(); }, []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another movement begins at its top
  useEffect(() => { dialog.current?.scrollTo(0, 0); }, [m.id]);
  const about = [whereWords(m), m.pattern, impactWords[m.impact], sidesWords[m.sides], tempoWords(m), `at least ${m.leastS} s${m.sides === 'each' ? ' each side' : ''}`];
  return (
    <dialog ref={dialog} className="opened" aria-labelledby="opened-name" onClose={close}>
      <header>
        <h2 id="opened-name">{m.name}</h2>
        <button type="button" className="control" onClick={() => dialog.current?.close()}>Close</button>
      </header>
      {m.otherNames.length > 0 && <p className="quiet-words">Also called {m.otherNames.join(', ')}</p>}
      <div className="large-stage"><Moving key={m.id} movement={m} side={side} sash={m.sides === 'each'} /></div>
      {m.phrases && m.sides === 'each' && (
        <div className="which">
          {(['left', 'right'] as const).map((s) => (
            <button key={s} type="button" className="control" aria-pressed={side === s} onClick={() => turn(s)}>{capital(m.phrases?.[s] ?? s)}</button>
          ))}
        </div>
      )}
      <p>{capital(about.filter(Boolean).join(', '))}.</p>
      <dl className="all-words">
        <div><dt>Set-up</dt><dd>{m.setUp}</dd></div>
        <div><dt>Action</dt><dd>{m.action}</dd></div>
        <div><dt>Cues</dt><dd><ul>{m.cues.map((c) => <li key={c}>{c}</li>)}</ul></dd></div>
        <div><dt>Look for</dt><dd><ul>{m.lookFor.map((l) => <li key={l}>{l}</li>)}</ul></dd></div>
        <div><dt>Option</dt><dd><Way to={m.option} library={library} /></dd></div>
        <div><dt>Build</dt><dd><Way to={m.build} library={library} /></dd></div>
        {m.phrases && <div><dt>Sides</dt><dd>{capital(m.phrases.left)}; {m.phrases.right}</dd></div>}
        <div>
          <dt>Options for needs</dt>
          <dd>
            <table className="for-needs"><tbody>
              {needs.map((n) => {
                const way = m.forNeeds[n];
                return <tr key={n}><th scope="row">{capital(needWords[n])}</th><td data-same={way?.words === AS_SHOWN}>{way ? <Way to={way} library={library} /> : 'Ask, or leave it out'}</td></tr>;
              })}
            </tbody></table>
          </dd>
        </div>
        {m.askFirst.length > 0 && <div><dt>Ask first</dt><dd><ul>{m.askFirst.map((a) => <li key={a}>{a}</li>)}</ul></dd></div>}
        <div><dt>Areas</dt><dd>{capital(m.areas.join(', '))}</dd></div>
        <div><dt>Suits</dt><dd>{capital(m.suits.map((s) => suitWords[s]).join(', '))}</dd></div>
        <div><dt>Intensity</dt><dd>{intensityWords(m.intensity)}, {COMPENDIUM}</dd></div>
      </dl>
    </dialog>
  );
}
