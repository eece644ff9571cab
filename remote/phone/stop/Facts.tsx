/** Owns a list of what the studio wrote down for the bad minute, and what it did not. */
import type { Emergency } from '../../../shared/wire/emergency.ts';

type Fact = readonly [label: string, key: keyof Emergency];

export function Facts({ emergency, facts }: { emergency: Emergency; facts: readonly Fact[] }) {
  return (
    <dl className="stop-facts">
      {facts.map(([label, key]) => (
        <div key={key}><dt>{label}</dt><dd data-missing={emergency[key] === ''}>{emergency[key] || 'not written down'}</dd></div>
      ))}
    </dl>
  );
}
