/**
 * Owns a pose (joint angles) and the body it makes (places of joints).
 * Leaves alone planted limbs (solve.ts) and time (motion.ts).
 */
import { FOOT, HIP_HALF, SEGMENT, SHOULDER_HALF, TRUNK_PARTS } from './skeleton.ts';
import { type Turn, type Vec, aboutX, aboutY, aboutZ, add, apply, scale, times } from './vector.ts';

export type Side = 'left' | 'right';
export interface Leg { flexion: number; abduction: number; rotation: number; knee: number; ankle: number; footTurn: number; footTilt: number }
export interface Arm { flexion: number; abduction: number; rotation: number; elbow: number; wrist: number; handTurn: number; handTilt: number }
export interface Bend { flexion: number; side: number; rotation: number }
export interface Root { x: number; y: number; z: number; lean: number; roll: number; turn: number; spin: number }
/** Side and rotation of the trunk, roll, turn and spin of the root: positive to the participant's right. */
export interface Pose { root: Root; trunk: Bend; neck: Bend; leftLeg: Leg; rightLeg: Leg; leftArm: Arm; rightArm: Arm }

export interface LegBody { hip: Vec; knee: Vec; ankle: Vec; heel: Vec; ball: Vec; toe: Vec; thigh: Turn; shank: Turn; foot: Turn }
export interface ArmBody { shoulder: Vec; elbow: Vec; wrist: Vec; knuckle: Vec; tip: Vec; upper: Turn; fore: Turn; hand: Turn }
export interface Body {
  root: Vec; waist: Vec; chest: Vec; shoulders: Vec; chin: Vec; crown: Vec;
  pelvis: Turn; loin: Turn; thorax: Turn; neck: Turn; head: Turn;
  leftLeg: LegBody; rightLeg: LegBody; leftArm: ArmBody; rightArm: ArmBody;
}

/** +1 where outward is +y: the left. */
export const outward = (side: Side) => (side === 'left' ? 1 : -1);
/** turn is about the vertical, lean forward, roll to the right, spin about the body's own length. */
export const rootTurn = (r: Root): Turn => times(times(times(aboutZ(-r.turn), aboutY(r.lean)), aboutX(r.roll)), aboutZ(-r.spin));
const bent = (b: Bend, share: number): Turn =>
  times(times(aboutZ(-b.rotation * share), aboutY(b.flexion * share)), aboutX(b.side * share));

/** A limb's upper segment in its socket: flexion forward, abduction outward, rotation inward about itself. */
export function socket(parent: Turn, l: { flexion: number; abduction: number; rotation: number }, side: Side): Turn {
  const o = outward(side);
  return times(times(times(parent, aboutY(-l.flexion)), aboutX(o * l.abduction)), aboutZ(-o * l.rotation));
}
/** A foot on its shank, a hand on its forearm: hinge, then turned out, then tilted. */
export const end = (parent: Turn, hinge: number, turn: number, tilt: number, side: Side): Turn =>
  times(times(times(parent, aboutY(-hinge)), aboutZ(outward(side) * turn)), aboutX(outward(side) * tilt));

export function legBody(pelvis: Turn, root: Vec, leg: Leg, side: Side): LegBody {
  const hip = add(root, scale(pelvis[1], outward(side) * HIP_HALF));
  const thigh = socket(pelvis, leg, side);
  const knee = add(hip, scale(thigh[2], -SEGMENT.thigh));
  const shank = times(thigh, aboutY(leg.knee));
  const ankle = add(knee, scale(shank[2], -SEGMENT.shank));
  const foot = end(shank, leg.ankle, leg.footTurn, leg.footTilt, side);
  const at = (x: number): Vec => add(ankle, apply(foot, [x, 0, -SEGMENT.footHeight]));
  return { hip, knee, ankle, heel: at(FOOT.heel), ball: at(FOOT.ball), toe: at(FOOT.toe), thigh, shank, foot };
}

export function armBody(thorax: Turn, shoulders: Vec, arm: Arm, side: Side): ArmBody {
  const shoulder = add(shoulders, scale(thorax[1], outward(side) * SHOULDER_HALF));
  const upper = socket(thorax, arm, side);
  const elbow = add(shoulder, scale(upper[2], -SEGMENT.upperArm));
  const fore = times(upper, aboutY(-arm.elbow));
  const wrist = add(elbow, scale(fore[2], -SEGMENT.forearm));
  const hand = handTurn(fore, arm, side);
  return {
    shoulder, elbow, wrist, upper, fore, hand,
    knuckle: add(wrist, scale(hand[2], -SEGMENT.hand * 0.52)), tip: add(wrist, scale(hand[2], -SEGMENT.hand)),
  };
}
/** The forearm turns the palm down, the wrist bends the hand back, then sideways. The palm of a hanging arm faces the body. */
const handTurn = (fore: Turn, arm: Arm, side: Side): Turn =>
  times(times(times(fore, aboutZ(-outward(side) * arm.handTurn)), aboutX(outward(side) * arm.wrist)), aboutY(-arm.handTilt));

/** The body that a pose makes. */
export function bodyOf(p: Pose): Body {
  const root: Vec = [p.root.x, p.root.y, p.root.z];
  const pelvis = rootTurn(p.root);
  const loin = times(pelvis, bent(p.trunk, 0.5));
  const thorax = times(loin, bent(p.trunk, 0.5));
  const waist = add(root, scale(pelvis[2], TRUNK_PARTS.pelvis));
  const chest = add(waist, scale(loin[2], TRUNK_PARTS.loin));
  const shoulders = add(chest, scale(thorax[2], TRUNK_PARTS.thorax));
  const neck = times(thorax, bent(p.neck, 0.5));
  const head = times(neck, bent(p.neck, 0.5));
  const chin = add(shoulders, scale(neck[2], SEGMENT.neck));
  return {
    root, waist, chest, shoulders, chin, crown: add(chin, scale(head[2], SEGMENT.head)),
    pelvis, loin, thorax, neck, head,
    leftLeg: legBody(pelvis, root, p.leftLeg, 'left'), rightLeg: legBody(pelvis, root, p.rightLeg, 'right'),
    leftArm: armBody(thorax, shoulders, p.leftArm, 'left'), rightArm: armBody(thorax, shoulders, p.rightArm, 'right'),
  };
}
