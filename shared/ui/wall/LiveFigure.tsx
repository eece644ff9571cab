/** Owns the body in the middle of the room: it moves with the server's clock, so that two screens move together. */
import { useState } from 'react';
import type { Movement } from '../../movement/movement.ts';
import { Figure, type FigureProps } from '../figure/Figure.tsx';
import { type Now, useFrames } from './use-frames.ts';
import { useStill } from './use-still.ts';

interface LiveFigureProps {
  readonly movement: Movement | undefined;
  readonly pose: FigureProps['pose'];
  readonly side: FigureProps['side'];
  readonly sash: boolean;
  readonly height: number;
  readonly now: Now;
}

/** Drawing a body is the dearest thing on the screen; slow televisions manage this many a second. */
const EACH_MS = 1_000 / 30;

export function LiveFigure({ now, pose, ...rest }: LiveFigureProps) {
  const still = useStill();
  const [atMs, setAt] = useState(0);
  const moves = pose === 'moving' && !still;
  useFrames(() => {
    const at = now();
    if (moves && at !== null && Math.abs(at - atMs) >= EACH_MS) setAt(at);
  });
  return <Figure {...rest} pose={moves || pose !== 'moving' ? pose : 'still'} atMs={atMs} />;
}
