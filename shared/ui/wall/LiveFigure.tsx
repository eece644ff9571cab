/** Owns the body in the middle of the room: it moves with the server's clock, so that two screens move together. */
import type { Movement } from '../../movement/movement.ts';
import { Figure, type FigureProps } from '../figure/Figure.tsx';
import { Moving } from '../figure/Moving.tsx';
import type { Now } from './use-frames.ts';
import { useStill } from './use-still.ts';

interface LiveFigureProps {
  readonly movement: Movement | undefined;
  readonly pose: FigureProps['pose'];
  readonly side: FigureProps['side'];
  readonly sash: boolean;
  readonly height: number;
  readonly now: Now;
}

export function LiveFigure({ now, ...props }: LiveFigureProps) {
  const still = useStill();
  const { movement, pose, side, sash, height } = props;
  if (pose !== 'moving' || still || movement?.picture) return <Figure {...props} pose={pose === 'moving' && still ? 'still' : pose} atMs={0} />;
  return <Moving key={`${movement?.id} ${side} ${sash}`} movement={movement} side={side} sash={sash} height={height} now={now} />;
}
