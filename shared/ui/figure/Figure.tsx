/**
 * Owns the figure on a page: shapes as SVG paths (marks.ts).
 * Pure from its props: the caller passes the time in the loop; no timers here. A
 * studio's own picture takes the figure's place (Picture.tsx).
 * Leaves alone which movement and which side (the view's) and how it is solved
 * (shared/movement).
 */
import { memo, type Ref } from 'react';
import type { Movement } from '../../movement/movement.ts';
import { drawFigure, type How } from '../../movement/draw.ts';
import { frameOf } from '../../movement/frame.ts';
import { type Mark, marksOf } from './marks.ts';
import { Picture } from './Picture.tsx';

export interface FigureProps {
  movement: Movement | undefined;
  /** moving: at atMs; still: its most telling moment; resting: a body at rest; outline: cut out, not filled. */
  pose: 'moving' | 'still' | 'resting' | 'outline';
  side: 'left' | 'right' | 'together' | null;
  /** Time in the loop; any number, the loop repeats. */
  atMs: number;
  height: number | string;
  /** The working limb wears its sash. */
  sash?: boolean;
  className?: string;
  /** For people who do not see it; without it the figure is decoration. */
  title?: string;
}

export const Figure = memo(function Figure(props: FigureProps) {
  const { movement, pose } = props;
  // Whoever rests is a body at rest, whatever the movement: a room copies what it sees.
  if (movement?.picture && pose !== 'resting') {
    const { atMs: _, sash: __, ...rest } = props;
    return <Picture key={movement.picture.file} {...rest} movement={movement} picture={movement.picture} instead={<Body {...props} />} />;
  }
  return <Body {...props} />;
});

function Body({ movement, pose, side, atMs, sash = false, ...rest }: FigureProps) {
  const marks = marksOf(drawFigure(movement, howOf({ pose, side, sash }), atMs), pose === 'outline');
  return <Drawn {...rest} movement={movement} resting={pose === 'resting'} marks={marks} />;
}

/** How a body is drawn that stands so. */
export const howOf = ({ pose, side, sash = false }: Pick<FigureProps, 'pose' | 'side' | 'sash'>): How =>
  ({ side, resting: pose === 'resting', sash: sash && pose !== 'resting', still: pose === 'still' || pose === 'outline' });

interface DrawnProps extends Pick<FigureProps, 'movement' | 'height' | 'className' | 'title'> {
  readonly resting: boolean;
  readonly marks: readonly Mark[];
  readonly svgRef?: Ref<SVGSVGElement>;
}

/** The paths in their box. */
export function Drawn({ movement, height, className, title, resting, marks, svgRef }: DrawnProps) {
  const box = frameOf(movement, resting);
  return (
    <svg
      ref={svgRef} className={className} viewBox={`${box.left} ${box.top} ${box.width} ${box.height}`} overflow="visible"
      style={{ height, width: 'auto', aspectRatio: `${box.width} / ${box.height}`, display: 'block' }}
      role={title ? 'img' : undefined} aria-label={title} aria-hidden={title ? undefined : true}
    >
      {/* biome-ignore lint/suspicious/noArrayIndexKey: shapes have no identity, only an order of painting */}
      {marks.map(({ d, paint }, k) => <path key={k} d={d} {...paint} />)}
    </svg>
  );
}
