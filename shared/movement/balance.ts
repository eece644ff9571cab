/**
 * Owns the centre of mass and what it must stay over. Lengths are shares of
 * stature. Masses and centres: skeleton.ts.
 */
import type { FigureData } from './figure.ts';
import type { Body } from './pose.ts';
import { MASS } from './skeleton.ts';
import { type Vec, add, mix, scale } from './vector.ts';

/** The centre of mass of the whole body. */
export function centreOfMass(b: Body): Vec {
  let sum: Vec = [0, 0, 0];
  let mass = 0;
  const put = ([share, from]: readonly [number, number], a: Vec, z: Vec) => {
    sum = add(sum, scale(mix(a, z, from), share));
    mass += share;
  };
  put(MASS.head, b.chin, b.crown);
  put(MASS.trunk, b.shoulders, b.root);
  for (const a of [b.leftArm, b.rightArm]) {
    put(MASS.upperArm, a.shoulder, a.elbow); put(MASS.forearm, a.elbow, a.wrist); put(MASS.hand, a.wrist, a.tip);
  }
  for (const l of [b.leftLeg, b.rightLeg]) {
    put(MASS.thigh, l.hip, l.knee); put(MASS.shank, l.knee, l.ankle); put(MASS.foot, l.heel, l.toe);
  }
  return scale(sum, 1 / mass);
}

/** Lower than this a part touches what carries it. */
const TOUCH = 0.05;
const wide = (p: Vec, r: number): Vec[] => [[p[0] - r, p[1] - r, 0], [p[0] + r, p[1] - r, 0], [p[0] - r, p[1] + r, 0], [p[0] + r, p[1] + r, 0]];

/** Points on the floor, chair or wall that carry the body, seen from above. */
export function support(b: Body, figure: FigureData): Vec[] {
  const points: Vec[] = [];
  const legs = [b.leftLeg, b.rightLeg];
  const arms = [b.leftArm, b.rightArm];
  for (const kind of figure.bears) {
    switch (kind) {
      case 'feet':
        for (const l of legs) for (const p of [l.heel, l.ball, l.toe]) if (p[2] < TOUCH) points.push(...wide(p, 0.02));
        break;
      case 'knees':
        for (const l of legs) if (l.knee[2] < TOUCH + 0.02) points.push(...wide(l.knee, 0.02), ...wide(l.ball, 0.02));
        break;
      case 'hands': for (const a of arms) points.push(...wide(a.wrist, 0.02), a.tip); break;
      case 'forearms': for (const a of arms) if (a.elbow[2] < TOUCH + 0.02) points.push(...wide(a.elbow, 0.02), a.tip); break;
      case 'seat': case 'chair': points.push(...wide(b.root, 0.08)); break;
      case 'back': points.push(...wide(b.shoulders, 0.1)); break;
      case 'front': points.push(...wide(b.root, 0.07), ...wide(b.shoulders, 0.08)); break;
      case 'side': points.push(...wide(b.root, 0.06), ...wide(b.shoulders, 0.06)); break;
      case 'wall': points.push(...wide(b.root, 0.06)); break;
    }
  }
  return points;
}

/** How far a point lies outside the hull of others, seen from above; 0 inside. */
export function outside(p: Vec, points: readonly Vec[]): number {
  let worst = 0;
  for (let i = 0; i < 72; i++) {
    const c = Math.cos((i * Math.PI) / 36);
    const s = Math.sin((i * Math.PI) / 36);
    const far = Math.max(...points.map((q) => q[0] * c + q[1] * s));
    worst = Math.max(worst, p[0] * c + p[1] * s - far);
  }
  return worst;
}
