/**
 * Owns what is held where: reads a key pose over its base, places the body and
 * takes planted hands and feet to their places. Leaves alone time (motion.ts).
 */
import { basePoses } from './bases.ts';
import type { FigureData, Hold, Key, Plant, pinParts } from './figure.ts';
import { type Arm, type Bend, type Body, type Leg, type Pose, type Root, type Side, armBody, bodyOf, legBody, outward } from './pose.ts';
import { FOOT, SEGMENT } from './skeleton.ts';
import { legReach, solveArm, solveLeg } from './solve.ts';
import { type Turn, type Vec, aboutX, aboutY, aboutZ, add, apply, cos, scale, sin, times } from './vector.ts';

export type Limb = 'leftFoot' | 'rightFoot' | 'leftHand' | 'rightHand';
export const limbs: readonly Limb[] = ['leftFoot', 'rightFoot', 'leftHand', 'rightHand'];
export const sideOf = (l: Limb): Side => (l.startsWith('left') ? 'left' : 'right');
export interface Held { on: Hold; x: number; y: number; z: number; heel: number; turn: number; tilt: number; out: number; back: number; lift: number | undefined }
export type Pin = { part: (typeof pinParts)[number]; side: Side; x: number; z: number };
/** A key pose read in full. Without a height, the root stands as high as the planted legs allow. */
export interface Read { at: number; held: boolean; pose: Pose; pin: Pin | null; standing: boolean; plants: Record<Limb, Held | null> }

const noLeg: Leg = { flexion: 0, abduction: 0, rotation: 0, knee: 0, ankle: 0, footTurn: 0, footTilt: 0 };
const noArm: Arm = { flexion: 0, abduction: 0, rotation: 0, elbow: 0, wrist: 0, handTurn: 0, handTilt: 0 };
const noRoot: Root = { x: 0, y: 0, z: 0, lean: 0, roll: 0, turn: 0, spin: 0 };
const noBend: Bend = { flexion: 0, side: 0, rotation: 0 };
/** How high the parts that carry a body lie over the floor: half their thickness. */
const REST = { foot: 0.002, knee: 0.036, seat: 0.068, shoulders: 0.06 } as const;
const WRIST_OVER_FLOOR = 0.024;

/** Layers over a whole: what a layer does not say stays. */
const layered = <T extends object>(whole: T, ...layers: (object | undefined)[]): T => Object.assign({}, whole, ...layers) as T;

const held = (p: Plant | undefined | null): Held | null =>
  p ? { on: p.on ?? 'floor', x: p.x ?? 0, y: p.y ?? 0, z: p.z ?? 0, heel: p.heel ?? 0, turn: p.turn ?? 0, tilt: p.tilt ?? 0, out: p.out ?? 0, back: p.back ?? 0, lift: p.lift } : null;
/** A plant over its base; another hold begins afresh, null lets go. */
const over = (...layers: (Plant | null | undefined)[]): Plant | null =>
  layers.reduce<Plant | null>((under, l) => {
    if (l === undefined) return under;
    return l && under && (l.on === undefined || l.on === under.on) ? layered(under, l) : l;
  }, null);

/** A key pose in full: base, then what the key says of both sides, then of one. */
export function readKey(figure: FigureData, key: Key): Read {
  const b = basePoses[key.base ?? figure.base];
  const leg = (own: Key['leftLeg'], base: Key['leftLeg']): Leg => layered(noLeg, b.legs, base, key.legs, own);
  const arm = (own: Key['leftArm'], base: Key['leftArm']): Arm => layered(noArm, b.arms, base, key.arms, own);
  const plants = {
    leftFoot: held(over(b.feet, key.feet, key.leftFoot)), rightFoot: held(over(b.feet, key.feet, key.rightFoot)),
    leftHand: held(over(b.hands, key.hands, key.leftHand)), rightHand: held(over(b.hands, key.hands, key.rightHand)),
  };
  const pin = key.pin === undefined ? b.pin : key.pin;
  const z = key.root?.z ?? b.root?.z;
  return {
    at: key.at, held: key.held ?? false, plants,
    standing: z === undefined && !pin,
    pin: pin ? { part: pin.part, side: pin.side ?? 'right', x: pin.x ?? 0, z: pin.z ?? REST[pin.part] } : null,
    pose: {
      root: layered(noRoot, b.root, key.root, { z: z ?? 0.6 }),
      trunk: layered(noBend, b.trunk, key.trunk), neck: layered(noBend, b.neck, key.neck),
      leftLeg: leg(key.leftLeg, b.leftLeg), rightLeg: leg(key.rightLeg, b.rightLeg),
      leftArm: arm(key.leftArm, b.leftArm), rightArm: arm(key.rightArm, b.rightArm),
    },
  };
}

/** A planted foot: turned out about the vertical, up on its ball (or back on its heel). */
export function footPlace(p: Held, side: Side): { ankle: Vec; foot: Turn } {
  const o = outward(side);
  const flat = aboutZ(o * p.turn);
  const foot = times(times(flat, aboutY(p.heel)), aboutX(o * p.tilt));
  if (p.tilt !== 0) return { foot, ankle: [p.x, o * p.y, p.z + SEGMENT.footHeight] };
  const pivot = p.heel >= 0 ? FOOT.ball : FOOT.heel;
  const ground = add([p.x, o * p.y, p.z], apply(flat, [pivot, 0, 0]));
  return { foot, ankle: add(ground, apply(foot, [-pivot, 0, SEGMENT.footHeight])) };
}

function footSolved(p: Held, side: Side, body: Body): Leg {
  const { ankle, foot } = footPlace(p, side);
  const hip = (side === 'left' ? body.leftLeg : body.rightLeg).hip;
  const o = outward(side);
  const ahead = add(apply(aboutZ(o * p.turn), [1, 0, 0]), body.pelvis[0]);
  const pole = add(scale(ahead, cos(p.out)), scale(body.pelvis[1], 2 * o * sin(p.out)));
  return solveLeg(body.pelvis, hip, ankle, foot, pole, side);
}

/** The wrist's place, and the hand's direction where it lies flat on something. */
function handPlace(p: Held, side: Side, body: Body): { wrist: Vec; hand: Turn | null } {
  const o = outward(side);
  const own = side === 'left' ? body.leftLeg : body.rightLeg;
  const other = side === 'left' ? body.rightLeg : body.leftLeg;
  const otherArm = side === 'left' ? body.rightArm : body.leftArm;
  const on = (origin: Vec, frame: Turn): { wrist: Vec; hand: null } => ({ wrist: add(origin, apply(frame, [p.x, o * p.y, p.z])), hand: null });
  switch (p.on) {
    case 'floor': {
      const x = apply(aboutZ(o * p.turn), [1, 0, 0]);
      const inward = apply(aboutZ(o * p.turn), [0, -o, 0]);
      return { wrist: [p.x, o * p.y, p.z + WRIST_OVER_FLOOR], hand: [inward, [0, 0, o], scale(x, -1)] };
    }
    case 'wall': return { wrist: [p.x, o * p.y, p.z], hand: [[0, -o, 0], [-o, 0, 0], [0, 0, -1]] };
    case 'air': return { wrist: [p.x, o * p.y, p.z], hand: null };
    case 'pelvis': return on(body.root, body.pelvis);
    case 'thorax': return on(body.shoulders, body.thorax);
    case 'head': return on(body.chin, body.head);
    case 'thigh': return on(own.hip, own.thigh);
    case 'shank': return on(own.knee, own.shank);
    case 'foot': return on(own.ankle, own.foot);
    case 'otherThigh': return on(other.hip, other.thigh);
    case 'otherShank': return on(other.knee, other.shank);
    case 'otherArm': return on(otherArm.elbow, otherArm.upper);
  }
}

/** Elbows point towards the feet and outward; a hand held to the body lets them point back as well. */
function handSolved(pose: Pose, p: Held, side: Side, body: Body): Arm {
  const { wrist, hand } = handPlace(p, side, body);
  const o = outward(side);
  const arm = side === 'left' ? body.leftArm : body.rightArm;
  const flat = p.on === 'floor' || p.on === 'wall';
  const turn = p.out === 0 ? (flat ? 30 : 55) : p.out;
  const back = (flat || p.on === 'air' ? 0 : -0.4) - 2 * sin(p.back);
  const pole = add(add(scale(body.thorax[2], -cos(turn)), scale(body.thorax[1], o * sin(turn))), scale(body.thorax[0], back));
  return solveArm(body.thorax, arm.shoulder, wrist, hand, pole, side === 'left' ? pose.leftArm : pose.rightArm, side);
}

/** Moves the root so that its pin is where it belongs, or so that standing legs reach their feet. */
export function place(pose: Pose, pin: Pin | null, plants: Record<Limb, Held | null>): Pose {
  const body = bodyOf(pose);
  if (pin) {
    const leg = pin.side === 'left' ? body.leftLeg : body.rightLeg;
    const at = pin.part === 'foot' ? leg.ball : pin.part === 'knee' ? leg.knee : pin.part === 'shoulders' ? body.shoulders : body.root;
    return { ...pose, root: { ...pose.root, x: pose.root.x + pin.x - at[0], z: pose.root.z + pin.z - at[2] } };
  }
  let z = pose.root.z;
  for (const side of ['left', 'right'] as const) {
    const p = plants[`${side}Foot`];
    if (!p) continue;
    const { ankle } = footPlace(p, side);
    const hip = (side === 'left' ? body.leftLeg : body.rightLeg).hip;
    const flat = (hip[0] - ankle[0]) ** 2 + (hip[1] - ankle[1]) ** 2;
    z = Math.min(z, ankle[2] + Math.sqrt(Math.max(0, legReach ** 2 - flat)) - (hip[2] - pose.root.z));
  }
  return { ...pose, root: { ...pose.root, z } };
}

/** The pose with every planted hand and foot taken to its place: feet first, then hands, a hand on the other arm last. */
export function plantAll(posed: Pose, plants: Record<Limb, Held | null>): Pose {
  const pose = { ...posed };
  let body = bodyOf(pose);
  if (plants.leftFoot) pose.leftLeg = footSolved(plants.leftFoot, 'left', body);
  if (plants.rightFoot) pose.rightLeg = footSolved(plants.rightFoot, 'right', body);
  body = {
    ...body,
    leftLeg: legBody(body.pelvis, body.root, pose.leftLeg, 'left'), rightLeg: legBody(body.pelvis, body.root, pose.rightLeg, 'right'),
  };
  for (const late of [false, true]) {
    for (const side of ['left', 'right'] as const) {
      const p = plants[`${side}Hand`];
      if (!p || (p.on === 'otherArm') !== late) continue;
      const arm = handSolved(pose, p, side, body);
      const made = armBody(body.thorax, body.shoulders, arm, side);
      if (side === 'left') { pose.leftArm = arm; body = { ...body, leftArm: made }; }
      else { pose.rightArm = arm; body = { ...body, rightArm: made }; }
    }
  }
  return pose;
}
