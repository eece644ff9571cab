/** Holds what must be true of every figure at every thirtieth of a second of its loop. */
import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { centreOfMass, outside, support } from './balance.ts';
import { mirrorPose } from './mirror.ts';
import { motionOf, poseAt, stateAt, type Motion } from './motion.ts';
import { type Movement, movementSchema } from './movement.ts';
import { camera, flatX, flatY } from './outline.ts';
import { type Held, footPlace } from './plants.ts';
import { type Body, type Pose, bodyOf } from './pose.ts';
import { strains } from './rom.ts';
import { FOOT, MASS, SEGMENT, TRUNK_PARTS } from './skeleton.ts';
import { type Turn, type Vec, dot, relative, size, sub } from './vector.ts';

const folder = new URL('../../media/movements/', import.meta.url);
const movements: Movement[] = readdirSync(folder).map((f) => movementSchema.parse(JSON.parse(readFileSync(new URL(f, folder), 'utf8'))));
const sides = ['left', 'right'] as const;
const leg = (b: Body, s: 'left' | 'right') => (s === 'left' ? b.leftLeg : b.rightLeg);
const arm = (b: Body, s: 'left' | 'right') => (s === 'left' ? b.leftArm : b.rightArm);

function motion(m: Movement): Motion {
  const made = motionOf(m);
  if (!made) throw new Error(`${m.id} has no figure that can be read`);
  return made;
}
const FRAME_MS = 1000 / 30;
/** Runs over every thirtieth of a second of every loop, and lists what is wrong. */
function everyFrame(look: (m: Movement, b: Body, p: Pose, atMs: number) => string[]): string[] {
  const wrong: string[] = [];
  for (const m of movements) {
    const mo = motion(m);
    for (let at = 0; at < mo.loopMs + FRAME_MS; at += FRAME_MS) {
      const { pose } = stateAt(mo, at);
      for (const w of look(m, bodyOf(pose), pose, at)) wrong.push(`${m.id} at ${Math.round(at)} ms: ${w}`);
    }
  }
  return wrong;
}

describe('skeleton', () => {
  // Drillis & Contini 1966 in Winter, Biomechanics and Motor Control of Human Movement, fig. 4.1.
  it('M1 segment heights add up to the whole body', () => {
    const s = SEGMENT;
    expect(s.footHeight + s.shank + s.thigh + s.trunk + s.neck + s.head).toBeCloseTo(1, 12);
    expect(s.footHeight + s.shank).toBeCloseTo(0.285, 12);
    expect(s.footHeight + s.shank + s.thigh).toBeCloseTo(0.53, 12);
    expect(s.footHeight + s.shank + s.thigh + s.trunk).toBeCloseTo(0.818, 12);
    expect(s.upperArm + s.forearm + s.hand).toBeCloseTo(0.44, 12);
    expect(TRUNK_PARTS.pelvis + TRUNK_PARTS.loin + TRUNK_PARTS.thorax).toBeCloseTo(s.trunk, 12);
    expect(FOOT.toe - FOOT.heel).toBeCloseTo(s.footLength, 12);
    const once = MASS.head[0] + MASS.trunk[0];
    const twice = MASS.upperArm[0] + MASS.forearm[0] + MASS.hand[0] + MASS.thigh[0] + MASS.shank[0] + MASS.foot[0];
    expect(once + 2 * twice).toBeCloseTo(1, 12);
  });

  it('M2 segments keep their length in every frame of every movement', () => {
    const off = (name: string, a: Vec, b: Vec, long: number) => (Math.abs(size(sub(a, b)) - long) > 1e-9 ? [name] : []);
    expect(everyFrame((_, b) => sides.flatMap((s) => [
      ...off('thigh', leg(b, s).hip, leg(b, s).knee, SEGMENT.thigh), ...off('shank', leg(b, s).knee, leg(b, s).ankle, SEGMENT.shank),
      ...off('upper arm', arm(b, s).shoulder, arm(b, s).elbow, SEGMENT.upperArm), ...off('forearm', arm(b, s).elbow, arm(b, s).wrist, SEGMENT.forearm),
      ...off('foot', leg(b, s).heel, leg(b, s).toe, SEGMENT.footLength), ...off('head', b.chin, b.crown, SEGMENT.head),
    ]))).toEqual([]);
  });
});

describe('every movement', () => {
  it('M3 joints stay within their range, or the movement names the joint and why', () => {
    expect(everyFrame((m, _, p) => strains(p, motion(m).figure.beyond).map((s) => `${s.side ?? ''} ${s.joint} ${s.value.toFixed(1)}`))).toEqual([]);
  });

  it('M4 nothing goes through the floor by more than a hundredth of stature', () => {
    const under = (name: string, p: Vec, thick: number) => (p[2] < thick - 0.01 ? [`${name} ${p[2].toFixed(3)}`] : []);
    expect(everyFrame((_, b) => [
      ...sides.flatMap((s) => [
        ...under('knee', leg(b, s).knee, 0.025), ...under('ankle', leg(b, s).ankle, 0.015), ...under('heel', leg(b, s).heel, 0), ...under('ball', leg(b, s).ball, 0),
        ...under('elbow', arm(b, s).elbow, 0.015), ...under('wrist', arm(b, s).wrist, 0.01), ...under('fingers', arm(b, s).tip, 0.0045),
      ]),
      ...under('seat', b.root, 0.055), ...under('shoulders', b.shoulders, 0.034), ...under('crown', b.crown, 0.02),
    ])).toEqual([]);
  });

  it('M5 a planted foot or hand stays where it is while it holds', () => {
    const same = (a: Held, b: Held) => a.on === b.on && a.x === b.x && a.y === b.y && a.z === b.z && a.heel === b.heel;
    const wrong: string[] = [];
    let held = 0;
    for (const m of movements) {
      const mo = motion(m);
      mo.keys.forEach((key, i) => {
        const next = mo.keys[(i + 1) % mo.keys.length];
        if (!next) return;
        const long = ((next.at - key.at + 1) % 1 || 1) * mo.loopMs;
        for (const s of sides) {
          const foot = key.plants[`${s}Foot`];
          const nextFoot = next.plants[`${s}Foot`];
          const hand = key.plants[`${s}Hand`];
          const nextHand = next.plants[`${s}Hand`];
          const flatHand = hand && nextHand && same(hand, nextHand) && (hand.on === 'floor' || hand.on === 'wall');
          for (let t = 0; t <= long; t += FRAME_MS) {
            const b = bodyOf(stateAt(mo, key.at * mo.loopMs + t).pose);
            if (foot && nextFoot && same(foot, nextFoot)) {
              held++;
              const off = size(sub(leg(b, s).ankle, footPlace(foot, s).ankle));
              if (off > 0.01) wrong.push(`${m.id} ${s} foot ${off.toFixed(3)}`);
            }
            if (flatHand) {
              held++;
              const want: Vec = [hand.x, (s === 'left' ? 1 : -1) * hand.y, hand.z + (hand.on === 'floor' ? 0.024 : 0)];
              const off = size(sub(arm(b, s).wrist, want));
              if (off > 0.01) wrong.push(`${m.id} ${s} hand ${off.toFixed(3)}`);
            }
          }
        }
      });
    }
    expect(held).toBeGreaterThan(2000);
    expect(wrong).toEqual([]);
  });

  it('M6 held poses are balanced: the centre of mass is over what carries it', () => {
    const wrong: string[] = [];
    let poses = 0;
    for (const m of movements) {
      for (const k of motion(m).keys.filter((key) => key.held)) {
        poses++;
        const b = bodyOf(k.pose);
        const off = outside(centreOfMass(b), support(b, motion(m).figure));
        if (off > 0.001) wrong.push(`${m.id} ${off.toFixed(3)}`);
      }
    }
    expect(poses).toBeGreaterThan(30);
    expect(wrong).toEqual([]);
  });

  it('M7 loops close: the last frame is the first', () => {
    for (const m of movements) {
      const mo = motion(m);
      const a = bodyOf(poseAt(mo, 'right', 0));
      const z = bodyOf(poseAt(mo, 'right', mo.loopMs - 0.001));
      for (const s of sides) {
        expect(size(sub(leg(a, s).toe, leg(z, s).toe)), m.id).toBeLessThan(0.001);
        expect(size(sub(arm(a, s).tip, arm(z, s).tip)), m.id).toBeLessThan(0.001);
      }
    }
  });

  it('M8 no joint turns faster than 800 degrees a second', () => {
    const joints = (b: Body): Turn[] => sides.flatMap((s) => [
      relative(b.pelvis, leg(b, s).thigh), relative(leg(b, s).thigh, leg(b, s).shank), relative(leg(b, s).shank, leg(b, s).foot),
      relative(b.thorax, arm(b, s).upper), relative(arm(b, s).upper, arm(b, s).fore),
    ]).concat([relative(b.pelvis, b.thorax), relative(b.thorax, b.head)]);
    const between = (a: Turn, b: Turn) => (Math.acos(Math.max(-1, Math.min(1, (dot(a[0], b[0]) + dot(a[1], b[1]) + dot(a[2], b[2]) - 1) / 2))) * 180) / Math.PI;
    let last: { m: Movement; turns: Turn[] } | null = null;
    expect(everyFrame((m, b) => {
      const turns = joints(b);
      const before = last?.m === m ? last.turns : turns;
      last = { m, turns };
      return turns.flatMap((t, i) => { const speed = between(before[i] ?? t, t) * 30; return speed > 800 ? [`joint ${i} ${speed.toFixed(0)}`] : []; });
    })).toEqual([]);
  });
});

describe('left and right', () => {
  it('M9 the other side is the exact mirror image', () => {
    for (const m of movements) {
      const mo = motion(m);
      for (const at of [0, 0.3, 0.7]) {
        const right = poseAt(mo, 'right', at * mo.loopMs);
        const left = poseAt(mo, 'left', at * mo.loopMs);
        expect(mirrorPose(mirrorPose(right))).toEqual(right);
        const [r, l] = [bodyOf(right), bodyOf(left)];
        expect(size(sub([r.rightLeg.toe[0], -r.rightLeg.toe[1], r.rightLeg.toe[2]], l.leftLeg.toe)), m.id).toBeLessThan(1e-12);
        expect(size(sub([r.rightArm.tip[0], -r.rightArm.tip[1], r.rightArm.tip[2]], l.leftArm.tip)), m.id).toBeLessThan(1e-12);
        // The picture of the left side is that body seen from the mirrored angle: the same picture, reflected.
        const { view, pitch } = mo.figure;
        expect(flatX(camera(view, pitch, -1), r.rightLeg.knee)).toBeCloseTo(flatX(camera(-view, pitch, 1), l.leftLeg.knee), 9);
        expect(flatY(camera(view, pitch, -1), r.rightLeg.knee)).toBeCloseTo(flatY(camera(-view, pitch, 1), l.leftLeg.knee), 9);
      }
    }
  });

  it("M10 the screen's left is the participant's left, and one side at a time is never shown in profile", () => {
    const left: Vec = [0, 0.1, 0.5];
    const right: Vec = [0, -0.1, 0.5];
    for (const m of movements) {
      const { view, pitch, sash } = motion(m).figure;
      const c = camera(view, pitch, 1);
      expect(flatX(c, left), m.id).toBeLessThan(flatX(c, right));
      if (m.sides !== 'each') continue;
      expect(Math.abs(view), m.id).toBeLessThanOrEqual(72);
      expect(sash === undefined && m.id !== 'lying-twist', `${m.id} has no sash`).toBe(false);
    }
  });
});
