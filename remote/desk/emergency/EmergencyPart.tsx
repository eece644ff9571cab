/**
 * Owns what the studio has ready for the bad minute, at the desk: what is still missing,
 * the facts as the screen and the phones say them, and writing them down.
 */
import { useState } from 'react';
import { type Emergency, emergencySchema, LOCAL_RULES_FIRST, missingIn } from '../../../shared/wire/emergency.ts';
import { ask } from '../../common/get.ts';
import { useGet } from '../../common/use-get.ts';
import './emergency.css';

const fields: readonly (readonly [keyof Emergency, string])[] = [
  ['number', 'Emergency number'], ['address', 'Address, as a caller says it'], ['floor', 'Floor'], ['door', 'Door'],
  ['defibrillator', 'Defibrillator'], ['firstAid', 'First-aid box'], ['wayOut', 'Way out'], ['meetingPoint', 'Meeting point'],
];

const list = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;

export function EmergencyPart() {
  const [got, again] = useGet('/api/emergency', emergencySchema);
  const [draft, setDraft] = useState<Emergency | null>(null);
  const [sentence, say] = useState<string | null>(null);
  const facts = got && 'ok' in got ? got.ok : null;
  const keep = async (next: Emergency) => {
    const kept = await ask('/api/emergency', emergencySchema, next, 'PUT');
    if ('problem' in kept) return say(kept.problem);
    say(null);
    setDraft(null);
    again();
  };
  const missing = facts ? missingIn(facts) : [];
  return (
    <section className="emergency">
      <h2>For a bad minute</h2>
      <p className="quiet-words">{LOCAL_RULES_FIRST} The screen and the phones say this when somebody presses Stop.</p>
      {got && 'problem' in got && <p className="sentence" role="alert">{got.problem}</p>}
      {facts && !draft && (
        <>
          {missing.length > 0 && <p className="sentence" role="status">Still missing: {list(missing)}.</p>}
          <dl>
            {fields.filter(([key]) => facts[key] !== '').map(([key, label]) => <div key={key}><dt>{label}</dt><dd>{facts[key]}</dd></div>)}
            {facts.localRules !== '' && <div><dt>Done first here</dt><dd>{facts.localRules}</dd></div>}
          </dl>
          <button type="button" className="control" onClick={() => setDraft(facts)}>{missing.length > 0 ? 'Write them down' : 'Change'}</button>
        </>
      )}
      {draft && (
        <form onSubmit={(e) => { e.preventDefault(); void keep(draft); }}>
          {fields.map(([key, label]) => (
            <label key={key}>{label}
              <input value={draft[key]} maxLength={key === 'number' ? 20 : 120} autoComplete="off" onChange={(e) => setDraft({ ...draft, [key]: e.target.value })} />
            </label>
          ))}
          <label>What your place, its law or its trained people want done first
            <textarea rows={3} maxLength={280} value={draft.localRules} onChange={(e) => setDraft({ ...draft, localRules: e.target.value })} />
          </label>
          {sentence && <p className="sentence" role="alert">{sentence}</p>}
          <button type="submit" className="control">Keep</button>
          <button type="button" className="control" onClick={() => { say(null); setDraft(null); }}>Leave as it is</button>
        </form>
      )}
    </section>
  );
}
