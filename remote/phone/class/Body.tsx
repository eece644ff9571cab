/** Owns where the body stands on the phone, and which pose it has; the figure itself is drawn by shared/ui. */
import { useReducer, useRef } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { type FigureProps, Figure } from '../../../shared/ui/figure/Figure.tsx';
import type { View } from '../../../shared/view/view.ts';
import type { Library } from '../../common/library.ts';
import { useFrames } from '../hooks/use-frames.ts';

/** Enough to see a movement at the size of a thumb, and kind to the battery. */
const FRAME_MS = 50;

function poseOf(v: View): FigureProps['pose'] {
  if (v.paused) return 'resting';
  switch (v.phase) {
    case 'work':
    case 'watch': return 'moving';
    case 'set-up':
    case 'count-in':
    case 'other-side': return 'still';
    case 'rest':
    case 'talk':
    case 'over': return 'resting';
  }
}

/** The name of what is shown: at the stations it is the first of them that the mirror does. */
function movementOf(v: View): string | null {
  const { stations } = v.interval ?? {};
  return stations ? (stations.movements[stations.turn % stations.movements.length] ?? null) : v.movement;
}

export function Body({ room, v, library }: { room: Room; v: View; library: Library }) {
  const [, draw] = useReducer((n: number) => n + 1, 0);
  const drawnAt = useRef(0);
  const pose = poseOf(v);
  const still = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
  useFrames(() => {
    if (performance.now() - drawnAt.current < FRAME_MS) return;
    drawnAt.current = performance.now();
    draw();
  }, pose === 'moving' && !still);
  const movement = movementOf(v);
  return (
    <div className="body">
      <Figure
        movement={movement === null ? undefined : library.movements.get(movement)}
        pose={pose === 'moving' && still ? 'still' : pose}
        side={v.side}
        atMs={room.now() ?? v.at}
        height="100%"
        sash={v.side !== null}
      />
    </div>
  );
}
