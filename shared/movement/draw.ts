/**
 * Owns the drawing of a figure as a list of flat shapes in the order they are
 * painted: a body cut from paper. Leaves alone colours (a tone is a name) and
 * the surface (SVG or canvas).
 *
 * The figure is a mirror of the room: the screen's left is the participant's left.
 */
import { type Cut, armShape, faceShape, headShape, legShape, neckShape, sashShape, torsoShape } from './paper.ts';
import { type Camera, camera, depth } from './outline.ts';
import { matShape } from './mat.ts';
import type { Movement } from './movement.ts';
import { type Motion, motionOf, poseAt } from './motion.ts';
import { place, plantAll, readKey } from './plants.ts';
import { type Pose, bodyOf } from './pose.ts';
import { type Prop, propParts, shadowShape } from './props.ts';
import { type Vec, mix } from './vector.ts';

export type Tone = 'near' | 'mid' | 'far' | 'face' | 'sash' | 'prop' | 'mat' | 'shade';
/** d is cut with an edge; its root, if it has one, is painted over it without one. */
export interface Shape { tone: Tone; d: string; root?: string }
export interface How {
  side: 'left' | 'right' | 'together' | null;
  resting: boolean;
  /** The working limb wears its sash. */
  sash?: boolean;
  /** Its most telling moment instead of the time given. */
  still?: boolean;
}

/** The body at rest: standing, arms by the side, turned a little. */
const restRead = readKey({ view: -24, pitch: 7, base: 'stand', keys: [{ at: 0 }], bears: ['feet'], beyond: [] }, { at: 0 });
const restPose: Pose = plantAll(place(restRead.pose, null, restRead.plants), restRead.plants);
const REST_VIEW = -24;

/** Length of one loop of a movement's figure; a body at rest has a loop of a second. */
export const loopMs = (movement: Movement | undefined): number => motionOf(movement)?.loopMs ?? 1000;

/** What to paint, back to front. Without figure data, or resting, it is a body at rest. */
export function drawFigure(movement: Movement | undefined, how: How, atMs: number): Shape[] {
  const motion = how.resting ? null : motionOf(movement);
  if (!motion) return paint(restPose, camera(REST_VIEW, 7, 1), REST_VIEW, null, null);
  const left = how.side === 'left' && movement?.sides !== 'together';
  const { view, pitch, prop, sash } = motion.figure;
  const worn = how.sash && (how.side === 'left' || how.side === 'right') && movement?.sides !== 'together' ? (sash ?? null) : null;
  // The other side is the same picture in a mirror: exact, and left stays left.
  const c = camera(view, pitch, left ? -1 : 1);
  const mat = matShape(c, motion);
  const body = paint(poseAt(motion, 'right', how.still ? stillMs(motion) : atMs), c, view, prop ?? null, worn);
  return mat ? [{ tone: 'mat', d: mat }, ...body] : body;
}

/** The moment a still picture shows: a key that is held, or the one that goes farthest from the first. */
function stillMs(motion: Motion): number {
  const held = motion.keys.findIndex((k) => k.held);
  const first = motion.flats[0] ?? [];
  const far = motion.flats.map((f) => f.reduce((sum, v, i) => sum + Math.abs(v - (first[i] ?? 0)), 0));
  const i = held >= 0 ? held : far.indexOf(Math.max(...far));
  return (motion.keys[i]?.at ?? 0) * motion.loopMs;
}

const limb = (tone: Tone, cut: Cut): Shape => ({ tone, ...cut });
interface Layer { depth: number; shapes: Shape[] }

function paint(pose: Pose, c: Camera, view: number, prop: Prop | null, sash: 'leg' | 'arm' | null): Shape[] {
  const body = bodyOf(pose);
  const d = (...p: Vec[]) => p.reduce((s, v) => s + depth(c, v), 0) / p.length;
  // Seen nearly from the front neither side is the far one.
  const rightTone: Tone = view > 14 ? 'far' : 'near';
  const leftTone: Tone = view < -14 ? 'far' : 'near';
  const trunk = d(mix(body.root, body.shoulders, 0.5));
  const layers: Layer[] = [{ depth: trunk, shapes: [limb('mid', torsoShape(c, body))] }];
  const head = d(mix(body.chin, body.crown, 0.5));
  const face = faceShape(c, body);
  layers.push({ depth: head + 0.01, shapes: [{ tone: 'mid', d: '', root: neckShape(c, body) }, { tone: 'near', d: headShape(c, body) }, ...(face ? [{ tone: 'face' as const, d: face }] : [])] });
  for (const side of ['right', 'left'] as const) {
    const leg = side === 'left' ? body.leftLeg : body.rightLeg;
    const arm = side === 'left' ? body.leftArm : body.rightArm;
    const tone = side === 'left' ? leftTone : rightTone;
    const wears = side === 'right' ? sash : null;
    const band = (limb: 'leg' | 'arm'): Shape[] => {
      if (wears !== limb) return [];
      const s = sashShape(c, limb === 'leg' ? leg : arm);
      return [{ tone: 'sash', d: s.band }, { tone, d: '', root: s.over }];
    };
    layers.push({ depth: d(leg.hip, leg.knee, leg.knee, leg.ankle), shapes: [limb(tone, legShape(c, leg, side)), ...band('leg')] });
    layers.push({ depth: d(arm.shoulder, arm.elbow, arm.elbow, arm.wrist), shapes: [limb(tone, armShape(c, arm)), ...band('arm')] });
  }
  if (prop) for (const p of propParts(c, prop)) layers.push({ depth: p.depth, shapes: [{ tone: 'prop', d: p.d }] });
  layers.sort((a, b) => a.depth - b.depth);
  return [{ tone: 'shade', d: shadowShape(c, body) }, ...layers.flatMap((l) => l.shapes)];
}
