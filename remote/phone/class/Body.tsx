/** Owns where the body stands on the phone; the figure itself is drawn by shared/ui. */
import { useReducer, useRef } from 'react';
import type { Room } from '../../../shared/link/types.ts';
import { Figure } from '../../../shared/ui/figure/Figure.tsx';
import { poseOf } from '../../../shared/ui/figure/pose-of.ts';
import type { View } from '../../../shared/view/view.ts';
import type { Library } from '../../common/library.ts';
import { useFrames } from '../hooks/use-frames.ts';

/** Enough to see a movement at the size of a thumb, and kind to the battery. */
const FRAME_MS = 50;

/** The name of what is shown: at the stations it is the first of them that the mirror does. */
function movementOf(v: View, library: Library): string | null {
  // Who sits goes on sitting.
  if (v.moving) return v.movement !== null && library.movements.get(v.movement)?.start === 'chair' ? 'chair-march' : 'march-in-place';
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
  const movement = movementOf(v, library);
  return (
    <div className="body">
      <Figure
        movement={movement === null ? undefined : library.movements.get(movement)}
        pose={pose === 'moving' && still ? 'still' : pose}
        side={v.moving ? null : v.side}
        atMs={room.now() ?? v.at}
        height="100%"
        sash={v.side !== null && !v.moving}
      />
    </div>
  );
}
