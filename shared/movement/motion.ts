/**
 * Owns a figure in time: the pose at a moment of its loop, for either side.
 * Leaves alone how a pose is drawn.
 *
 * Between key poses every angle follows a monotone cubic (Fritsch & Carlson
 * 1980, SIAM J. Numer. Anal. 17:238-246): it rests at turning points, passes
 * through keys on the way without a stop and never swings beyond them. An
 * alternating movement is its right half, then the same mirrored.
 */
import type { FigureData } from './figure.ts';
import { mirrorPose, otherSide } from './mirror.ts';
import type { Movement } from './movement.ts';
import type { Pose } from './pose.ts';
import { type Held, type Limb, type Pin, type Read, limbs, place, plantAll, readKey } from './plants.ts';

export interface Motion { figure: FigureData; loopMs: number; keys: readonly Read[]; flats: readonly (readonly number[])[] }

const groups = ['root', 'trunk', 'neck', 'leftLeg', 'rightLeg', 'leftArm', 'rightArm'] as const;
const fields = {
  root: ['x', 'y', 'z', 'lean', 'roll', 'turn', 'spin'], trunk: ['flexion', 'side', 'rotation'], neck: ['flexion', 'side', 'rotation'],
  leg: ['flexion', 'abduction', 'rotation', 'knee', 'ankle', 'footTurn', 'footTilt'],
  arm: ['flexion', 'abduction', 'rotation', 'elbow', 'wrist', 'handTurn', 'handTilt'],
} as const;
const fieldsOf = (g: (typeof groups)[number]): readonly string[] =>
  g === 'leftLeg' || g === 'rightLeg' ? fields.leg : g === 'leftArm' || g === 'rightArm' ? fields.arm : fields[g];

/** Every number of a pose in one fixed order. */
export const flatten = (p: Pose): number[] =>
  groups.flatMap((g) => fieldsOf(g).map((f) => (p[g] as unknown as Record<string, number>)[f] ?? 0));
function unflatten(v: readonly number[]): Pose {
  const pose: Record<string, Record<string, number>> = {};
  let i = 0;
  for (const g of groups) {
    const part: Record<string, number> = {};
    for (const f of fieldsOf(g)) part[f] = v[i++] ?? 0;
    pose[g] = part;
  }
  return pose as unknown as Pose;
}

const mirrorRead = (k: Read): Read => ({
  ...k, at: k.at / 2 + 0.5, pose: mirrorPose(k.pose), pin: k.pin ? { ...k.pin, side: otherSide[k.pin.side] } : null,
  plants: { leftFoot: k.plants.rightFoot, rightFoot: k.plants.leftFoot, leftHand: k.plants.rightHand, rightHand: k.plants.leftHand },
});

/** Seconds of a loop of a movement that is held, when it does not say. */
const HELD_LOOP_S = 6;
const motions = new WeakMap<Movement, Motion | null>();

/** A movement's figure, solved once; null when it has none. */
export function motionOf(movement: Movement | undefined): Motion | null {
  if (!movement) return null;
  const known = motions.get(movement);
  if (known !== undefined) return known;
  const motion = movement.figure ? compile(movement.figure, movement) : null;
  motions.set(movement, motion);
  return motion;
}

function compile(figure: FigureData, movement: Movement): Motion {
  const half = figure.keys.map((k) => {
    const r = readKey(figure, k);
    return { ...r, pose: plantAll(place(r.pose, r.pin, r.plants), r.plants) };
  });
  const alternating = movement.sides === 'alternating';
  const keys = alternating ? [...half.map((k) => ({ ...k, at: k.at / 2 })), ...half.map(mirrorRead)] : half;
  const repS = figure.loopS ?? movement.tempoS ?? HELD_LOOP_S;
  return { figure, loopMs: repS * (alternating ? 2 : 1) * 1000, keys, flats: keys.map((k) => flatten(k.pose)) };
}

/** Value at share u between two keys, from the keys around them: monotone cubic. */
function between(v0: number, v1: number, v2: number, v3: number, d0: number, d1: number, d2: number, u: number): number {
  const s0 = (v1 - v0) / d0;
  const s1 = (v2 - v1) / d1;
  const s2 = (v3 - v2) / d2;
  const slope = (a: number, b: number, da: number, db: number) => {
    if (a * b <= 0) return 0;
    const w1 = 2 * db + da;
    const w2 = db + 2 * da;
    return (w1 + w2) / (w1 / a + w2 / b);
  };
  const m1 = slope(s0, s1, d0, d1) * d1;
  const m2 = slope(s1, s2, d1, d2) * d1;
  const uu = u * u;
  const uuu = uu * u;
  return v1 * (2 * uuu - 3 * uu + 1) + m1 * (uuu - 2 * uu + u) + v2 * (3 * uu - 2 * uuu) + m2 * (uuu - uu);
}

interface Span { i0: number; i1: number; i2: number; i3: number; d0: number; d1: number; d2: number; u: number }
function spanAt(keys: readonly Read[], share: number): Span {
  const n = keys.length;
  const at = (i: number) => (keys[((i % n) + n) % n]?.at ?? 0) + Math.floor(i / n);
  let i = n - 1;
  while (i > 0 && at(i) > share) i--;
  if (at(i) > share) i--;
  const gap = (j: number) => Math.max(1e-6, at(j + 1) - at(j));
  const w = (j: number) => ((j % n) + n) % n;
  return { i0: w(i - 1), i1: w(i), i2: w(i + 1), i3: w(i + 2), d0: gap(i - 1), d1: gap(i), d2: gap(i + 1), u: (share - at(i)) / gap(i) };
}

const numeric = ['x', 'y', 'z', 'heel', 'turn', 'tilt', 'out', 'back'] as const;
/** A limb held to the same thing at both ends of a span stays held, carried in a low arc if it moves. */
function heldBetween(keys: readonly Read[], s: Span, limb: Limb): Held | null {
  const a = keys[s.i1]?.plants[limb];
  const b = keys[s.i2]?.plants[limb];
  if (!a || !b || a.on !== b.on) return null;
  const before = keys[s.i0]?.plants[limb];
  const after = keys[s.i3]?.plants[limb];
  const p0 = before?.on === a.on ? before : a;
  const p3 = after?.on === a.on ? after : b;
  const made: Held = { ...a };
  for (const f of numeric) made[f] = between(p0[f], a[f], b[f], p3[f], s.d0, s.d1, s.d2, s.u);
  const far = Math.hypot(a.x - b.x, a.y - b.y);
  const lift = b.lift ?? (a.on === 'floor' && far > 0.005 ? Math.min(0.035, far * 0.25) : 0);
  made.z += lift * Math.sin(Math.PI * s.u) ** 2;
  return made;
}
function pinBetween(keys: readonly Read[], s: Span): Pin | null {
  const a = keys[s.i1]?.pin;
  const b = keys[s.i2]?.pin;
  if (!a || !b || a.part !== b.part || a.side !== b.side) return null;
  const p0 = keys[s.i0]?.pin ?? a;
  const p3 = keys[s.i3]?.pin ?? b;
  const num = (f: 'x' | 'z') => between(p0[f], a[f], b[f], p3[f], s.d0, s.d1, s.d2, s.u);
  return { ...a, x: num('x'), z: num('z') };
}

/** What is planted at a moment, as well as the pose: for the tests of contacts. */
export function stateAt(motion: Motion, atMs: number): { pose: Pose; plants: Record<Limb, Held | null>; pin: Pin | null } {
  const share = (((atMs % motion.loopMs) + motion.loopMs) % motion.loopMs) / motion.loopMs;
  const s = spanAt(motion.keys, share);
  const [f0, f1, f2, f3] = [motion.flats[s.i0], motion.flats[s.i1], motion.flats[s.i2], motion.flats[s.i3]];
  const flat = (f1 ?? []).map((v1, j) => between(f0?.[j] ?? v1, v1, f2?.[j] ?? v1, f3?.[j] ?? v1, s.d0, s.d1, s.d2, s.u));
  const plants = Object.fromEntries(limbs.map((l) => [l, heldBetween(motion.keys, s, l)])) as Record<Limb, Held | null>;
  const pin = pinBetween(motion.keys, s);
  return { pose: plantAll(place(unflatten(flat), pin, plants), plants), plants, pin };
}

/** The pose at a moment of the loop, for the side that works ("right" is how it is written). */
export function poseAt(motion: Motion, side: 'left' | 'right', atMs: number): Pose {
  const { pose } = stateAt(motion, atMs);
  return side === 'left' ? mirrorPose(pose) : pose;
}
