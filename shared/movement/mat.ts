/**
 * Owns the mat under a body that lies, kneels or bears on its hands: it shows where
 * the floor is, so that nobody takes a lying body for a standing one.
 */
import { type Camera, flatBall, hull } from './outline.ts';
import { type Motion, poseAt } from './motion.ts';
import { bodyOf } from './pose.ts';
import type { Vec } from './vector.ts';

/** Half the width of a mat 60 cm wide under a body of 175 cm (a common size, no source). */
const HALF_WIDTH = 0.171;
const MARGIN = 0.05;
const LOOKS = 24;

/** As long as the body reaches in its loop; corners, as ranges along x and y. */
interface Mat { x: readonly [number, number]; y: readonly [number, number] }
const mats = new WeakMap<Motion, Mat | null>();

function matOf(motion: Motion): Mat | null {
  const known = mats.get(motion);
  if (known !== undefined) return known;
  const mat = motion.figure.prop || ['stand', 'chair'].includes(motion.figure.base) ? null : measure(motion);
  mats.set(motion, mat);
  return mat;
}
function measure(motion: Motion): Mat {
  const points: Vec[] = [];
  for (let i = 0; i < LOOKS; i++) {
    const b = bodyOf(poseAt(motion, 'right', (motion.loopMs * i) / LOOKS));
    points.push(b.root, b.shoulders, b.crown);
    for (const l of [b.leftLeg, b.rightLeg]) points.push(l.knee, l.heel, l.toe);
    for (const a of [b.leftArm, b.rightArm]) points.push(a.elbow, a.wrist);
  }
  const along = (i: 0 | 1): readonly [number, number] => [Math.min(...points.map((p) => p[i])) - MARGIN, Math.max(...points.map((p) => p[i])) + MARGIN];
  if (motion.figure.base !== 'side-lying') return { x: along(0), y: [-HALF_WIDTH, HALF_WIDTH] };
  // Bent knees lie on it as well as the back.
  const { root, leftLeg } = bodyOf(poseAt(motion, 'right', 0));
  const middle = (root[0] + leftLeg.knee[0]) / 2;
  return { x: [middle - HALF_WIDTH, middle + HALF_WIDTH], y: along(1) };
}

/** None where the body stands or uses a chair or a wall. */
export function matCorners(motion: Motion): readonly Vec[] {
  const mat = matOf(motion);
  return mat ? mat.x.flatMap((x) => mat.y.map((y): Vec => [x, y, 0])) : [];
}

/** The mat's outline; null where there is none. */
export function matShape(c: Camera, motion: Motion): string | null {
  const corners = matCorners(motion);
  return corners.length > 0 ? hull(corners.map((at) => flatBall(c, { at, r: 0.008 })), 32) : null;
}
