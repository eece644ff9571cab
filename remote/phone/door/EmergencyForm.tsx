/** Owns writing down what a bad minute needs, once for the studio: address, number, where things are. */
import { useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { type Emergency, emergencySchema, LOCAL_RULES_FIRST } from '../../../shared/wire/emergency.ts';
import { ask } from '../../common/get.ts';

const fields: readonly (readonly [keyof Emergency, string])[] = [
  ['number', 'Emergency number'], ['address', 'Address, as a caller says it'], ['floor', 'Floor'], ['door', 'Door'],
  ['defibrillator', 'Defibrillator'], ['firstAid', 'First-aid box'], ['wayOut', 'Way out'], ['meetingPoint', 'Meeting point'],
];

export function EmergencyForm({ room, onDone }: { room: Room; onDone: () => void }) {
  const [facts, setFacts] = useState<Emergency | null>(room.about?.people.emergency ?? null);
  const [sentence, say] = useState<string | null>(null);
  if (!facts) return null;
  const set = (key: keyof Emergency) => (e: { target: { value: string } }) => setFacts({ ...facts, [key]: e.target.value });
  const keep = async () => {
    const got = await ask('/api/emergency', emergencySchema, facts, 'PUT');
    if ('ok' in got) onDone();
    else say(got.problem);
  };
  return (
    <>
      <section className="page-body">
        <button type="button" className="back" onClick={onDone}>Back without keeping</button>
        <h2>For a bad minute<small>{LOCAL_RULES_FIRST}</small></h2>
        <p className="quiet-words">The screen and the phones show this when somebody presses Stop. It holds for the whole studio.</p>
        <form id="facts" className="facts" onSubmit={(e) => { e.preventDefault(); void keep(); }}>
          {fields.map(([key, label]) => (
            <label key={key}>{label}<input value={facts[key]} maxLength={key === 'number' ? 20 : 120} inputMode={key === 'number' ? 'tel' : 'text'} autoComplete="off" onChange={set(key)} /></label>
          ))}
          <label>What your place, its law or its trained people want done first<textarea rows={3} value={facts.localRules} onChange={set('localRules')} /></label>
        </form>
      </section>
      <div className="foot">
        {sentence && <p className="sentence" role="alert">{sentence}</p>}
        <button type="submit" form="facts" className="big"><span className="big-word">Keep</span></button>
      </div>
    </>
  );
}
