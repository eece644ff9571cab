/**
 * Owns how much room a figure takes: one box for all of its loop, the same for
 * both sides, standing on the floor. Thousandths of stature, y down.
 */
import { camera, flatX, flatY } from './outline.ts';
import { matCorners } from './mat.ts';
import type { Movement } from './movement.ts';
import { motionOf, poseAt } from './motion.ts';
import { bodyOf } from './pose.ts';
import { WALL_HALF, WALL_HEIGHT } from './props.ts';
import type { Vec } from './vector.ts';

export interface Box { left: number; top: number; width: number; height: number }
/** Share of a box that lies under the floor line, for near feet and the shadow: the same for every movement. */
export const FLOOR_SHARE = 0.055;
const EDGE = 45;
/** A body that lies is shown larger, but never more than this. */
const MOST_ZOOM = 1.4;
const STANDING = 1090;
/** Boxes are this much wider than high at most, so that lying and standing bodies share one place. */
export const ASPECT = 1.5;

const boxes = new WeakMap<Movement, Box>();
const boxOf = (height: number, middle: number, floor: number): Box =>
  ({ left: middle - (height * ASPECT) / 2, top: floor + height * (FLOOR_SHARE - 1), width: height * ASPECT, height });
/** What stands nearest lies so far over the floor line: it stands on the boards, not on their edge. */
const ON_BOARDS = 14;
const resting: Box = boxOf(STANDING, 0, 0);

export function frameOf(movement: Movement | undefined, atRest: boolean): Box {
  const motion = atRest ? null : motionOf(movement);
  if (!motion || !movement) return resting;
  const known = boxes.get(movement);
  if (known) return known;
  const c = camera(motion.figure.view, motion.figure.pitch, 1);
  let low = 0, high = 0, top = 0, bottom = 0;
  const see = (p: Vec, r: number) => {
    low = Math.min(low, flatX(c, p) - r);
    high = Math.max(high, flatX(c, p) + r);
    top = Math.min(top, flatY(c, p) - r);
    bottom = Math.max(bottom, flatY(c, p) + Math.min(r, 20));
  };
  const { prop } = motion.figure;
  if (prop?.kind === 'wall') for (const y of [-WALL_HALF, WALL_HALF]) see([prop.x, y, WALL_HEIGHT], 10);
  for (let i = 0; i < 48; i++) {
    const b = bodyOf(poseAt(motion, 'right', (motion.loopMs * i) / 48));
    see(b.crown, 30); see(b.chin, 60); see(b.root, 95);
    for (const l of [b.leftLeg, b.rightLeg]) { see(l.knee, 40); see(l.toe, 20); see(l.heel, 20); }
    for (const a of [b.leftArm, b.rightArm]) { see(a.elbow, 30); see(a.tip, 12); }
  }
  for (const corner of matCorners(motion)) see(corner, 0);
  const wide = 2 * Math.max(Math.abs((low + high) / 2 - low), 200) + 2 * EDGE;
  const floor = bottom - ON_BOARDS;
  const height = Math.max((floor - top + EDGE) / (1 - FLOOR_SHARE), wide / ASPECT, STANDING / MOST_ZOOM);
  const box = boxOf(height, (low + high) / 2, floor);
  boxes.set(movement, box);
  return box;
}
