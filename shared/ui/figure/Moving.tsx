/**
 * Owns a figure that moves with a clock: React draws it once, then its paths are written over at
 * the frames, only those that changed. A moment of the loop that was drawn before is not made anew.
 */
import { useLayoutEffect, useRef, useState } from 'react';
import { drawFigure, loopMs } from '../../movement/draw.ts';
import type { Movement } from '../../movement/movement.ts';
import { type Now, useFrames } from '../wall/use-frames.ts';
import { Drawn, type FigureProps, howOf } from './Figure.tsx';
import { type Mark, marksOf, redraw } from './marks.ts';

interface MovingProps extends Pick<FigureProps, 'side' | 'height'> {
  readonly movement: Movement | undefined;
  readonly sash: boolean;
  readonly now: Now;
}

/** Moments a second. Drawing a body is the dearest thing on the screen; slow televisions manage this many. */
const A_SECOND = 30;
/** Moments that are kept of one loop; some longer than this there are none. */
const KEPT_MOST = A_SECOND * 60;

/** The moments of one loop, made when they are first asked for. Two screens ask for the same ones. */
export function momentsOf(movement: Movement | undefined, side: MovingProps['side'], sash: boolean): (atMs: number) => readonly Mark[] {
  const count = Math.max(1, Math.round((loopMs(movement) * A_SECOND) / 1_000));
  const how = howOf({ pose: 'moving', side, sash });
  const kept: (readonly Mark[] | undefined)[] = [];
  return (atMs) => {
    const share = (atMs % loopMs(movement)) / loopMs(movement);
    const k = Math.min(count - 1, Math.floor((share < 0 ? share + 1 : share) * count));
    const marks = kept[k] ?? marksOf(drawFigure(movement, how, (k * loopMs(movement)) / count), false);
    if (count <= KEPT_MOST) kept[k] = marks;
    return marks;
  };
}

/** To be given another key with another movement, side or sash: React does not draw it again. */
export function Moving({ movement, side, sash, height, now }: MovingProps) {
  const svg = useRef<SVGSVGElement>(null);
  const [moment] = useState(() => momentsOf(movement, side, sash));
  const [first] = useState(() => moment(now() ?? 0));
  const drawn = useRef(first);
  const draw = () => {
    const at = now();
    if (at === null || !svg.current) return;
    const marks = moment(at);
    if (marks === drawn.current) return;
    redraw(svg.current, drawn.current, marks);
    drawn.current = marks;
  };
  useLayoutEffect(draw);
  useFrames(draw);
  return <Drawn movement={movement} height={height} resting={false} marks={first} svgRef={svg} />;
}
