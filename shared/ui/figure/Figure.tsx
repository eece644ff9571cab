/**
 * Owns the figure on a page: shapes as SVG paths in the tones of the theme.
 * Pure from its props: the caller passes the time in the loop; no timers here. A
 * studio's own picture takes the figure's place (Picture.tsx).
 * Leaves alone which movement and which side (the view's) and how it is solved
 * (shared/movement).
 *
 * Tones are CSS variables of the surrounding page: --ink (near), --ink-mid
 * (trunk), --ink-far (far), --sash, --plaster, --wood (chair and wall), --mat, --shade, --cut (edges).
 */
import { Fragment, memo } from 'react';
import type { Movement } from '../../movement/movement.ts';
import { type Tone, drawFigure } from '../../movement/draw.ts';
import { frameOf } from '../../movement/frame.ts';
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

const CUT = 'var(--cut, #B08D6B)';
const fill: Record<Tone, string> = {
  near: 'var(--ink, #1A120D)', mid: 'var(--ink-mid, #2B1E16)', far: 'var(--ink-far, #483427)', face: 'var(--ink-far, #483427)',
  sash: 'var(--sash, #FBF5EA)', prop: 'var(--wood, #E0C49A)', mat: 'var(--mat, #E9D7B9)', shade: 'var(--shade, rgba(26, 18, 13, 0.16))',
};
/** Where paper lies over paper its cut edge catches the light. Props are drawn with a line. */
const edge: Record<Tone, string> = {
  near: CUT, mid: CUT, far: CUT, face: 'none', sash: 'var(--ink, #1A120D)', prop: 'var(--ink, #1A120D)', mat: 'none', shade: 'none',
};
const EDGE_WIDTH = 8;
const LINE_WIDTH = 14;

export const Figure = memo(function Figure(props: FigureProps) {
  const { movement, pose } = props;
  // Whoever rests is a body at rest, whatever the movement: a room copies what it sees.
  if (movement?.picture && pose !== 'resting') {
    const { atMs: _, sash: __, ...rest } = props;
    return <Picture key={movement.picture.file} {...rest} movement={movement} picture={movement.picture} instead={<Body {...props} />} />;
  }
  return <Body {...props} />;
});

function Body({ movement, pose, side, atMs, height, sash = false, className, title }: FigureProps) {
  const resting = pose === 'resting';
  const still = pose === 'still' || pose === 'outline';
  const box = frameOf(movement, resting);
  const shapes = drawFigure(movement, { side, resting, sash: sash && !resting, still }, atMs);
  const outline = pose === 'outline';
  return (
    <svg
      className={className} viewBox={`${box.left} ${box.top} ${box.width} ${box.height}`} overflow="visible"
      style={{ height, width: 'auto', aspectRatio: `${box.width} / ${box.height}`, display: 'block' }}
      role={title ? 'img' : undefined} aria-label={title} aria-hidden={title ? undefined : true}
    >
      {shapes.map((s, i) => (outline ? (
        <path
          // biome-ignore lint/suspicious/noArrayIndexKey: shapes have no identity, only an order of painting
          key={i} d={s.d + (s.root ?? '')} paintOrder="stroke" strokeLinejoin="round"
          fill={s.tone === 'shade' || s.tone === 'mat' ? fill[s.tone] : s.tone === 'sash' ? 'var(--ink, #1A120D)' : 'var(--plaster, #FBF5EA)'}
          stroke={s.tone === 'shade' || s.tone === 'mat' ? 'none' : 'var(--ink, #1A120D)'} strokeWidth={LINE_WIDTH}
        />
      ) : (
        // biome-ignore lint/suspicious/noArrayIndexKey: as above
        <Fragment key={i}>
          {s.d ? <path d={s.d} fill={fill[s.tone]} stroke={edge[s.tone]} strokeWidth={EDGE_WIDTH} paintOrder="stroke" strokeLinejoin="round" /> : null}
          {s.root ? <path d={s.root} fill={fill[s.tone]} /> : null}
        </Fragment>
      )))}
    </svg>
  );
}
