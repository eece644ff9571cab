/** Owns saying that another room needs a hand: the phone buzzes and names the room, until somebody has seen it. */
import { useEffect, useRef, useState } from 'react';
import { Edge } from '../../../shared/ui/Edge.tsx';
import type { People } from '../../../shared/wire/messages/people.ts';

type Call = People['elsewhere'][number];
const nameOf = (call: Call): string => `${call.room} ${call.what} ${call.since}`;

/** Felt in a pocket; twice, because the first is often missed. */
const BUZZ = [400, 200, 400, 600, 400, 200, 400];

export const callWords = ({ name, what }: Pick<Call, 'name' | 'what'>): string => (what === 'help' ? `${name} needs a hand` : `Everyone out of ${name}`);

export function Elsewhere({ calls }: { calls: readonly Call[] }) {
  const [seen, setSeen] = useState<ReadonlySet<string>>(new Set());
  const names = calls.map(nameOf).join('|');
  const felt = useRef(new Set<string>());
  // Once for each call: one that ends, or that is seen, does not bring back the others.
  useEffect(() => {
    const fresh = names.split('|').filter((name) => name !== '' && !felt.current.has(name));
    for (const name of fresh) felt.current.add(name);
    if (fresh.length > 0 && 'vibrate' in navigator) navigator.vibrate(BUZZ);
  }, [names]);
  const unseen = calls.filter((call) => !seen.has(nameOf(call)));
  if (unseen.length === 0) return null;
  return (
    <div role="alert">
      {unseen.map((call) => (
        <div key={nameOf(call)} className="elsewhere">
          <Edge pattern={call.pattern} />
          <p><b>{callWords(call)}</b></p>
          <button type="button" className="control" onClick={() => setSeen(new Set([...seen, nameOf(call)]))}>Seen</button>
        </div>
      ))}
    </div>
  );
}
