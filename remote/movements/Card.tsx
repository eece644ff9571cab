/** Owns one movement among many: its figure, its name, and what somebody chooses by. */
import { memo } from 'react';
import type { Movement, Need } from '../../shared/movement/movement.ts';
import { Moving } from './Moving.tsx';
import { capital, impactWords, needWords, sidesWords, whereWords } from './words.ts';

export const Card = memo(function Card({ movement: m, needs }: { movement: Movement; needs: readonly Need[] }) {
  const about = [whereWords(m), m.pattern, m.impact === 'none' ? '' : impactWords[m.impact], m.sides === 'together' ? '' : sidesWords[m.sides]];
  return (
    <li className="card">
      <a href={`#${m.id}`}>
        <Moving movement={m} side="right" sash={m.sides === 'each'} />
        <b>{m.name}</b>
        <span>{capital(about.filter(Boolean).join(', '))}</span>
        {needs.map((n) => <em key={n}>{capital(needWords[n])}: {m.forNeeds[n]?.words}</em>)}
      </a>
    </li>
  );
});
