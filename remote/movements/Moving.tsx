/** Owns a movement's figure on the page: it moves while it is in view, and stands on a floor line. */
import { useRef } from 'react';
import type { Movement } from '../../shared/movement/movement.ts';
import { Figure } from '../../shared/ui/figure/Figure.tsx';
import { useLoopMs } from './ticker.ts';

export function Moving({ movement, side, sash }: { movement: Movement; side: 'left' | 'right'; sash: boolean }) {
  const place = useRef<HTMLDivElement>(null);
  const atMs = useLoopMs(place);
  return (
    <div className="stage" ref={place}>
      <Figure
        movement={movement} pose={atMs === null ? 'still' : 'moving'} side={movement.sides === 'together' ? 'together' : side} atMs={atMs ?? 0}
        height="100%" sash={sash}
      />
    </div>
  );
}
