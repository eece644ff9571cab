/** Owns left for right: every one-sided movement is written for the right and mirrored here. Exact: it swaps and changes signs. */
import type { Key } from './figure.ts';
import type { Bend, Pose, Root } from './pose.ts';

const turned = (v: number) => (v === 0 ? 0 : -v);
const bend = (b: Bend): Bend => ({ ...b, side: turned(b.side), rotation: turned(b.rotation) });
const root = (r: Root): Root => ({ ...r, y: turned(r.y), roll: turned(r.roll), turn: turned(r.turn), spin: turned(r.spin) });

export const mirrorPose = (p: Pose): Pose => ({
  root: root(p.root), trunk: bend(p.trunk), neck: bend(p.neck),
  leftLeg: p.rightLeg, rightLeg: p.leftLeg, leftArm: p.rightArm, rightArm: p.leftArm,
});

/** Which limb a name means on the other side. */
export const otherSide = { left: 'right', right: 'left' } as const;

export function mirrorPin(pin: Key['pin']): Key['pin'] {
  return pin ? { ...pin, side: otherSide[pin.side ?? 'right'] } : pin;
}
