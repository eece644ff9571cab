/**
 * Owns two-bone inverse kinematics: the joint angles that take a hand or a foot
 * to where it is held. Leaves alone what is held where (plants.ts).
 *
 * The middle joint lies where two spheres meet (law of cosines), on the side
 * that its pole points to; the angles are then read back from the directions,
 * so that a solved limb is angles like any other.
 */
import { type Arm, type Leg, type Side, outward } from './pose.ts';
import { SEGMENT } from './skeleton.ts';
import { type Turn, type Vec, aboutX, aboutY, add, asin, atan2, cross, dot, relative, scale, size, sub, times, unit, within } from './vector.ts';

/** Limbs are never solved quite straight, where a knee would snap. */
const STRAIGHT = 0.9985;
const LEG_MAX = (SEGMENT.thigh + SEGMENT.shank) * STRAIGHT;
const ARM_MAX = (SEGMENT.upperArm + SEGMENT.forearm) * STRAIGHT;
export const legReach = LEG_MAX;

const clamp = (v: number, low: number, high: number) => Math.min(high, Math.max(low, v));

/** Where the middle joint lies, and the unit direction across the limb towards it. */
function middle(from: Vec, to: Vec, first: number, second: number, most: number, pole: Vec): { at: Vec; across: Vec; end: Vec } {
  const line = sub(to, from);
  const along = unit(line);
  const d = clamp(size(line), Math.abs(first - second) + 0.01, most);
  const a = (first * first - second * second + d * d) / (2 * d);
  const h = Math.sqrt(Math.max(0, first * first - a * a));
  const across = unit(sub(pole, scale(along, dot(pole, along))));
  return { at: add(from, add(scale(along, a), scale(across, h))), across, end: add(from, scale(along, d)) };
}

/** No upper arm goes farther back than this beside the body (AAOS extension); what seems to has gone up through the side. */
const FARTHEST_BACK = -60;
/** Flexion and abduction of a direction in its socket, and the turn that shows a forward. */
function angles(parent: Turn, direction: Vec, forward: Vec, side: Side, arm: boolean) {
  const o = outward(side);
  const t = within(parent, direction);
  let flexion = atan2(t[0], -t[2]);
  let abduction = asin(o * t[1]);
  if (arm && flexion < FARTHEST_BACK) {
    // A raised arm that leans back: over the front and past upright, or up through the side; whichever a shoulder does.
    const side = Math.max(0, 180 - abduction - 180) + Math.max(0, flexion + 180 - 180);
    const front = Math.max(0, flexion + 360 - 180);
    if (front <= side) flexion += 360;
    else { flexion += 180; abduction = 180 - abduction; }
  }
  const frame = times(times(parent, aboutY(-flexion)), aboutX(o * abduction));
  const f = within(frame, forward);
  return { flexion, abduction, rotation: -o * atan2(f[1], f[0]) };
}

/** Angles of a leg whose ankle is held at a place with a foot's direction. */
export function solveLeg(pelvis: Turn, hip: Vec, ankle: Vec, foot: Turn, pole: Vec, side: Side): Leg {
  const k = middle(hip, ankle, SEGMENT.thigh, SEGMENT.shank, LEG_MAX, pole);
  const down = unit(sub(k.at, hip));
  const forward = unit(sub(k.across, scale(down, dot(k.across, down))));
  const socket = angles(pelvis, down, forward, side, false);
  const low = unit(sub(k.end, k.at));
  const shankUp = scale(low, -1);
  const y = cross(scale(down, -1), forward);
  const shank: Turn = [cross(y, shankUp), y, shankUp];
  const f = relative(shank, foot);
  const o = outward(side);
  return {
    ...socket,
    knee: atan2(dot(low, scale(forward, -1)), dot(low, down)),
    ankle: -atan2(-f[0][2], f[0][0]), footTurn: o * asin(f[0][1]), footTilt: o * atan2(-f[2][1], f[1][1]),
  };
}

/** Angles of an arm whose wrist is held at a place; the hand's own direction where it is held flat. */
export function solveArm(thorax: Turn, shoulder: Vec, wrist: Vec, hand: Turn | null, pole: Vec, was: Arm, side: Side): Arm {
  const k = middle(shoulder, wrist, SEGMENT.upperArm, SEGMENT.forearm, ARM_MAX, pole);
  const down = unit(sub(k.at, shoulder));
  const elbowOut = unit(sub(k.across, scale(down, dot(k.across, down))));
  const forward = scale(elbowOut, -1);
  const socket = angles(thorax, down, forward, side, true);
  const low = unit(sub(k.end, k.at));
  const elbow = atan2(dot(low, forward), dot(low, down));
  if (!hand) return { ...was, ...socket, elbow };
  const up = scale(low, -1);
  const y = cross(scale(down, -1), forward);
  const h = relative([cross(y, up), y, up], hand);
  const o = outward(side);
  return {
    ...socket, elbow,
    wrist: o * asin(h[1][2]), handTurn: -o * atan2(-h[1][0], h[1][1]), handTilt: -atan2(-h[0][2], h[2][2]),
  };
}
