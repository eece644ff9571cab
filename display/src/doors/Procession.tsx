/** Owns the quiet procession before a class: one after another, the movements that are planned. */
import { useEffect, useState } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { useLanguage } from '../../../shared/ui/language.ts';
import { Fit } from '../../../shared/ui/wall/Fit.tsx';
import { LiveFigure } from '../../../shared/ui/wall/LiveFigure.tsx';

/** Long enough to see a movement twice. */
const EACH_MS = 6_000;

/** The movements of a plan, each once, in the order in which they come. */
export const planned = (plan: Plan): string[] => [...new Set(plan.sections.flatMap((s) => s.items.map((i) => i.movement)))];

/** Which of the planned movements has its turn. */
export function useTurn(plan: Plan | null): string | null {
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => setTurn((n) => n + 1), EACH_MS);
    return () => clearInterval(timer);
  }, []);
  const ids = plan ? planned(plan) : [];
  return ids[turn % Math.max(1, ids.length)] ?? null;
}

export function Walker({ id, library, now, height }: { id: string | null; library: Library; now: Room['now']; height: number }) {
  const movement = id === null ? undefined : library.get(id);
  const side = movement?.sides === 'each' ? 'right' : 'together';
  return <LiveFigure movement={movement} pose={movement ? 'moving' : 'resting'} side={side} sash={false} now={now} height={height} />;
}

export function WalkerName({ id, library }: { id: string | null; library: Library }) {
  const { text } = useLanguage();
  const movement = id === null ? undefined : library.get(id);
  const name = movement ? text(movement.id, movement.name, movement.name) : '';
  return name === '' ? null : <Fit className="walker-name" text={name} most={7.4} lines={2} />;
}
