/** Owns teaching the phone a key of a clicker, a pedal or a keyboard: it does what the big control does. The keys are shown. */
import { useEffect, useState } from 'react';
import { canBeTaught, nameOf, taught, teach, USUAL } from './taught.ts';
import './keys.css';

export function KeysPart() {
  const [own, keep] = useState(taught);
  const [waits, wait] = useState(false);
  const [said, say] = useState('');
  useEffect(() => {
    if (!waits) return;
    const onKey = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      if (event.repeat) return;
      wait(false);
      if (event.key === 'Escape') return say('No key was taught.');
      if (!canBeTaught(event.key)) return say(`${nameOf(event.key)} has a meaning of its own. Another key will do.`);
      if ((USUAL as readonly string[]).includes(event.key)) return say(`${nameOf(event.key)} does it already.`);
      teach(event.key);
      keep(event.key);
      say(`${nameOf(event.key)} is learned.`);
    };
    window.addEventListener('keydown', onKey, true);
    return () => window.removeEventListener('keydown', onKey, true);
  }, [waits]);
  return (
    <section className="keys-part" aria-label="Keys">
      <h3>Clicker, pedal or keyboard</h3>
      <p>Joined to this phone, these do what the big control does:</p>
      <ul className="keys">{[...USUAL, ...(own === null ? [] : [own])].map((key) => <li key={key}><kbd>{nameOf(key)}</kbd></li>)}</ul>
      <div className="keys-ways">
        <button type="button" className="control" aria-pressed={waits} onClick={() => { say(''); wait(!waits); }}>{waits ? 'Press the key now' : 'Teach another key'}</button>
        {own !== null && <button type="button" className="control" onClick={() => { teach(null); keep(null); say('It is forgotten.'); }}>Forget {nameOf(own)}</button>}
      </div>
      <p className="quiet-words" role="status">{said}</p>
    </section>
  );
}
