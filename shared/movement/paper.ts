/**
 * Owns the cut of the paper body: thickness of limbs, torso, hands, feet, head
 * and face. Leaves alone where the joints are (pose.ts) and the order of painting
 * (draw.ts). Thicknesses are ours, drawn by eye; lengths are the skeleton's.
 */
import { type Ball, type Camera, type Egg, type Flat, capsule, chain, depth, flatBall, flatEgg, hull, local } from './outline.ts';
import { type ArmBody, type Body, type LegBody, type Side, outward } from './pose.ts';
import { SEGMENT, SHOULDER_HALF } from './skeleton.ts';
import { type Turn, type Vec, add, cross, dot, mix, scale, sub, unit } from './vector.ts';

export const THICK = {
  hip: 0.054, thigh: 0.05, knee: 0.034, calf: 0.036, ankle: 0.021, heel: 0.017, ball: 0.015, toe: 0.01,
  shoulder: 0.033, upper: 0.028, elbow: 0.022, fore: 0.0225, wrist: 0.015, palm: 0.0105, finger: 0.0075,
} as const;

/** A part whose edge is cut, and its root, painted over it without one: where it grows out of the trunk, so that no joint shows. */
export interface Cut { d: string; root: string }

export function legShape(c: Camera, l: LegBody, side: Side): Cut {
  const thigh: Ball = { at: mix(l.hip, l.knee, 0.36), r: THICK.thigh };
  return { d: capsule(c, thigh, { at: l.knee, r: THICK.knee }) + shankShape(c, l, side), root: capsule(c, { at: l.hip, r: THICK.hip }, thigh) };
}
function shankShape(c: Camera, l: LegBody, side: Side): string {
  const o = outward(side);
  // The calf lies behind the bone.
  const calf = add(mix(l.knee, l.ankle, 0.32), scale(l.shank[0], -0.009));
  const b = (at: Vec, r: number) => flatBall(c, { at, r });
  const sole = (x: number, y: number, r: number) => b(local(l.ankle, l.foot, x, o * y, r - SEGMENT.footHeight), r);
  return chain(c, { at: l.knee, r: THICK.knee }, { at: calf, r: THICK.calf }, { at: l.ankle, r: THICK.ankle })
    + hull([sole(-0.02, 0, THICK.heel), sole(0.066, -0.013, THICK.ball), sole(0.06, 0.016, THICK.ball), b(local(l.ankle, l.foot, 0.006, 0, 0), THICK.ankle)], 24)
    + toes(c, l, o);
}
/** Toes stay on the floor when the heel is up. */
function toes(c: Camera, l: LegBody, o: number): string {
  const forward = l.foot[0];
  const onBall = forward[2] < -0.3 && l.ball[2] < 0.03;
  const level = unit([forward[0], forward[1], 0]);
  const ahead: Turn = onBall ? [level, cross([0, 0, 1], level), [0, 0, 1]] : l.foot;
  const from = add(l.ball, scale(l.foot[2], 0.012));
  const tip = (y: number, x: number) => flatBall(c, { at: onBall ? local(l.ball, ahead, x, o * y, THICK.toe) : local(l.ball, l.foot, x, o * y, THICK.toe), r: THICK.toe });
  const root = (y: number) => flatBall(c, { at: local(from, l.foot, -0.004, o * y, 0), r: THICK.ball * 0.9 });
  return hull([root(-0.013), root(0.015), tip(-0.013, 0.036), tip(0.012, 0.028)], 20);
}

export function armShape(c: Camera, a: ArmBody): Cut {
  const upper: Ball = { at: mix(a.shoulder, a.elbow, 0.45), r: THICK.upper };
  return { d: capsule(c, upper, { at: a.elbow, r: THICK.elbow }) + foreShape(c, a), root: capsule(c, { at: a.shoulder, r: THICK.shoulder }, upper) };
}
function foreShape(c: Camera, a: ArmBody): string {
  const b = (at: Vec, r: number) => flatBall(c, { at, r });
  const inHand = (x: number, z: number, r: number) => b(local(a.wrist, a.hand, x, 0, -z), r);
  return chain(c, { at: a.elbow, r: THICK.elbow }, { at: mix(a.elbow, a.wrist, 0.3), r: THICK.fore }, { at: a.wrist, r: THICK.wrist })
    + hull([b(a.wrist, THICK.wrist * 0.95), inHand(0.016, 0.05, THICK.palm), inHand(-0.016, 0.05, THICK.palm)], 20)
    + hull([inHand(0.014, 0.05, THICK.palm), inHand(-0.015, 0.05, THICK.palm), inHand(0.008, 0.1, THICK.finger), inHand(-0.008, 0.094, THICK.finger)], 20)
    + capsule(c, { at: local(a.wrist, a.hand, 0.012, 0, -0.02), r: 0.009 }, { at: local(a.wrist, a.hand, 0.034, 0, -0.05), r: 0.0065 });
}

/** Far shoulders lie under the trunk's own, so that an arm grows out of it; the seat goes over into the legs without an edge. */
export function torsoShape(c: Camera, t: Body): Cut {
  const egg = (at: Vec, axes: Turn, x: number, y: number, z: number) => flatEgg(c, { at, axes, half: [x, y, z] });
  const shoulders = egg(local(t.shoulders, t.thorax, 0, 0, -0.012), t.thorax, 0.034, SHOULDER_HALF + 0.008, 0.026);
  const chest = egg(local(t.chest, t.thorax, 0.006, 0, 0.045), t.thorax, 0.062, 0.086, 0.06);
  const ribs = egg(local(t.chest, t.thorax, 0.003, 0, 0), t.thorax, 0.056, 0.078, 0.03);
  const waist = egg(local(t.waist, t.loin, 0, 0, 0.02), t.loin, 0.05, 0.066, 0.03);
  const belly = egg(local(t.waist, t.pelvis, 0, 0, -0.03), t.pelvis, 0.055, 0.078, 0.03);
  const seat = egg(local(t.root, t.pelvis, -0.01, 0, 0.005), t.pelvis, 0.06, 0.094, 0.048);
  const cap = (at: Vec) => flatBall(c, { at, r: THICK.shoulder });
  const d = hull([chest, ribs], 32) + hull([ribs, waist], 32) + hull([waist, belly], 32);
  return {
    d,
    root: hull([shoulders, chest], 40) + hull([belly, seat], 36)
      + hull([cap(t.leftArm.shoulder), cap(t.rightArm.shoulder), flatBall(c, { at: local(t.shoulders, t.thorax, -0.002, 0, 0.025), r: 0.03 })], 36),
  };
}

export const neckShape = (c: Camera, t: Body): string => capsule(c, { at: local(t.shoulders, t.thorax, 0, 0, -0.004), r: 0.034 }, { at: local(t.chin, t.head, -0.006, 0, 0.03), r: 0.028 });

/** The head's centre and its axes: 0.13 of stature from chin to crown. */
const skull = (t: Body): Egg => ({ at: local(t.chin, t.head, -0.003, 0, 0.073), axes: t.head, half: [0.058, 0.047, 0.058] });
const inHead = (t: Body, x: number, z: number): Vec => local(t.chin, t.head, x, 0, z);
const JAW = 0.02;
const noseShape = (c: Camera, t: Body): string =>
  capsule(c, { at: inHead(t, 0.05, 0.068), r: 0.006 }, { at: inHead(t, 0.067, 0.05), r: 0.0075 }) + capsule(c, { at: inHead(t, 0.067, 0.05), r: 0.0075 }, { at: inHead(t, 0.045, 0.045), r: 0.009 });

export function headShape(c: Camera, t: Body): string {
  return hull([flatEgg(c, skull(t)), flatBall(c, { at: inHead(t, 0.026, 0.02), r: JAW })], 36)
    + noseShape(c, t) + capsule(c, { at: inHead(t, -0.05, 0.1), r: 0.02 }, { at: inHead(t, -0.066, 0.108), r: 0.025 });
}

/** Turned farther away than this, nose and jaw are only an outline. */
const AWAY = -0.2;
/** Which way the face looks: lighter, from the brow down to the jaw, the nose on it; none from behind. */
export function faceShape(c: Camera, t: Body): string | null {
  const s = skull(t);
  const STEPS = 24;
  const flat: Flat[] = [];
  let seen = 0;
  for (let i = 0; i < STEPS; i++) {
    const a = (i / STEPS) * 2 * Math.PI;
    // Round the front of the head, on its surface.
    const y = Math.cos(a) * 0.78;
    const z = Math.sin(a) * 0.62 - 0.26;
    const x = Math.sqrt(Math.max(0, 1 - y * y - z * z));
    const out = add(scale(t.head[0], x * s.half[0]), add(scale(t.head[1], y * s.half[1] * (z < -0.3 ? 0.86 : 1)), scale(t.head[2], z * s.half[2])));
    const n = add(scale(t.head[0], dot(out, t.head[0]) / s.half[0] ** 2), add(scale(t.head[1], dot(out, t.head[1]) / s.half[1] ** 2), scale(t.head[2], dot(out, t.head[2]) / s.half[2] ** 2)));
    const facing = dot(n, c.near) > 0;
    if (facing) seen++;
    flat.push(flatBall(c, { at: add(s.at, facing ? out : limb(s, out, c)), r: 0 }));
  }
  if (seen <= 2) return null;
  if (dot(t.head[0], c.near) < AWAY) return hull(flat, 36);
  return hull([...flat, flatBall(c, { at: inHead(t, 0.026, 0.02), r: JAW })], 36) + noseShape(c, t);
}
/** A point on the far side of the head, brought to its visible edge. */
function limb(s: Egg, out: Vec, c: Camera): Vec {
  const across = sub(out, scale(c.near, dot(out, c.near)));
  const u = unit(across);
  const m = Math.hypot(dot(s.axes[0], u) * s.half[0], dot(s.axes[1], u) * s.half[1], dot(s.axes[2], u) * s.half[2]);
  return scale(u, m);
}

/** Below the knee or the elbow. */
const lower = (c: Camera, l: LegBody | ArmBody) => ('knee' in l ? shankShape(c, l, 'right') : foreShape(c, l));

/**
 * A band around the middle of the thigh or the upper arm, and the part of the
 * limb that lies before it when the limb points at whoever looks.
 */
export function sashShape(c: Camera, l: LegBody | ArmBody): { band: string; over: string } {
  const leg = 'knee' in l;
  const from = leg ? l.hip : l.shoulder;
  const to = leg ? l.knee : l.elbow;
  const r = leg ? [0.0492, 0.0452] : [0.0295, 0.028];
  const at = leg ? [0.46, 0.62] : [0.42, 0.62];
  const axis = unit(sub(to, from));
  const disc = (k: number, rad: number) => {
    const x = unit(cross(axis, Math.abs(axis[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]));
    return flatEgg(c, { at: mix(from, to, k), axes: [x, cross(axis, x), axis], half: [rad, rad, 0.001] });
  };
  const [k0, k1] = [at[0] ?? 0.4, at[1] ?? 0.6];
  const [r0, r1] = [r[0] ?? 0, r[1] ?? 0];
  const endFirst = depth(c, to) > depth(c, from);
  const joint = flatBall(c, endFirst ? { at: to, r: leg ? THICK.knee : THICK.elbow } : { at: from, r: leg ? THICK.hip : THICK.shoulder });
  return {
    band: hull([disc(k0, r0 + 0.002), disc(k1, r1 + 0.002)], 32),
    over: hull([endFirst ? disc(k1, r1) : disc(k0, r0), joint], 32) + (endFirst ? lower(c, l) : ''),
  };
}

