/** Owns what a body uses: a chair, a wall, and its own shadow on the floor. */
import { type Camera, depth, flatBall, hull } from './outline.ts';
import type { Body } from './pose.ts';
import { type Vec, add, apply, aboutZ } from './vector.ts';

export interface Prop { kind: 'chair' | 'wall'; x: number; turn?: number | undefined }
/** A seat 45 cm high under a body of 175 cm, 42 cm wide (common sizes, no source). */
export const SEAT_HEIGHT = 0.257;
/** As much of a wall as the picture needs: its height, and how far it goes to either side. */
export const WALL_HEIGHT = 1.06;
export const WALL_HALF = 0.42;

interface PropPart { depth: number; d: string }

export function propParts(c: Camera, prop: Prop): PropPart[] {
  const turn = aboutZ(-(prop.turn ?? 0));
  const at = (p: Vec): Vec => add([prop.x, 0, 0], apply(turn, p));
  const box = (x0: number, x1: number, y0: number, y1: number, z0: number, z1: number, bias = 0): PropPart => {
    const corners = [x0, x1].flatMap((x) => [y0, y1].flatMap((y) => [z0, z1].map((z) => at([x, y, z]))));
    return { d: hull(corners.map((p) => flatBall(c, { at: p, r: 0.004 })), 24), depth: depth(c, at([(x0 + x1) / 2, (y0 + y1) / 2, (z0 + z1) / 2])) + bias };
  };
  if (prop.kind === 'wall') return [box(0, 0.03, -WALL_HALF, WALL_HALF, 0, WALL_HEIGHT, -1)];
  const W = 0.12;
  const top = SEAT_HEIGHT;
  const back = box(-0.13, -0.112, -W, W, 0.36, 0.5);
  const posts = [box(-0.13, -0.112, -W, -W + 0.018, 0, 0.5), box(-0.13, -0.112, W - 0.018, W, 0, 0.5)];
  return [
    { depth: back.depth, d: back.d + posts.map((p) => p.d).join('') },
    box(-0.13, 0.12, -W, W, top - 0.022, top),
    box(0.1, 0.12, -W, -W + 0.018, 0, top - 0.02), box(0.1, 0.12, W - 0.018, W, 0, top - 0.02),
  ];
}

/** Higher than this a limb throws no shadow that tells anything. */
const SHADOW_UNDER = 0.4;
const STEPS = 12;
/** The shadow of the body with the light straight above: of what is close to the floor, piece by piece. */
export function shadowShape(c: Camera, b: Body): string {
  const flat = (p: Vec, r: number) => ({ ...flatBall(c, { at: [p[0], p[1], 0], r }), ry: [0, Math.max(4, r * 1000 * c.near[2]), 0] as const });
  const piece = (r: number, ...points: Vec[]) => (points.every((p) => p[2] < SHADOW_UNDER) ? hull(points.map((p) => flat(p, r)), STEPS) : '');
  let d = piece(0.08, b.root, b.shoulders);
  for (const l of [b.leftLeg, b.rightLeg]) d += piece(0.045, l.hip, l.knee) + piece(0.03, l.knee, l.heel, l.toe);
  for (const a of [b.leftArm, b.rightArm]) d += piece(0.03, a.shoulder, a.elbow) + piece(0.022, a.elbow, a.tip);
  return d || hull([flat(b.root, 0.09)], STEPS);
}
