/**
 * Owns flat outlines: what a camera sees of balls and egg shapes, and the hulls
 * around them, as SVG path data. Leaves alone which part of a body they are.
 *
 * All outlines run the same way round, so that the pieces of one path join
 * without holes. Units are thousandths of stature, y down.
 */
import { type Turn, type Vec, add, apply, cos, dot, scale, sin } from './vector.ts';

/** A camera on the horizon of a mirror: the screen's left is the participant's left. */
export interface Camera { right: Vec; up: Vec; near: Vec; flip: 1 | -1 }

/**
 * view 0 looks at the front of the body. The picture is a mirror: the body's
 * left (+y) is the screen's left (-x). flip reflects the whole picture, for the
 * other side of a one-sided movement.
 */
export function camera(view: number, pitch: number, flip: 1 | -1): Camera {
  const toward: Vec = [cos(view), sin(view), 0];
  return {
    right: [sin(view), -cos(view), 0],
    up: add(scale(toward, -sin(pitch)), [0, 0, cos(pitch)]),
    near: add(scale(toward, cos(pitch)), [0, 0, sin(pitch)]),
    flip,
  };
}

export interface Flat { x: number; y: number; rx: readonly [number, number, number]; ry: readonly [number, number, number] }
const UNIT = 1000;
export const flatX = (c: Camera, p: Vec) => dot(c.right, p) * UNIT * c.flip;
export const flatY = (c: Camera, p: Vec) => -dot(c.up, p) * UNIT;
export const depth = (c: Camera, p: Vec) => dot(c.near, p);

export interface Ball { at: Vec; r: number }
/** An egg shape: half-lengths along its own axes. */
export interface Egg { at: Vec; axes: Turn; half: Vec }

/** To tenths, as text: from whole numbers, which is several times as fast as from a number with a point. */
function n(v: number): string {
  const tenths = Math.round(v * 10);
  const rest = tenths % 10;
  if (rest === 0) return `${tenths / 10}`;
  return tenths < 0 ? `-${(-tenths + rest) / 10}.${-rest}` : `${(tenths - rest) / 10}.${rest}`;
}

/** The straight-sided shape around two balls: two arcs and two lines. */
export function capsule(c: Camera, a: Ball, b: Ball): string {
  const ax = flatX(c, a.at), ay = flatY(c, a.at), bx = flatX(c, b.at), by = flatY(c, b.at);
  const ra = a.r * UNIT, rb = b.r * UNIT;
  const d = Math.sqrt((bx - ax) ** 2 + (by - ay) ** 2);
  if (d <= Math.abs(ra - rb) + 0.01) return ra > rb ? disc(ax, ay, ra) : disc(bx, by, rb);
  const along = Math.atan2(by - ay, bx - ax);
  const open = Math.acos((ra - rb) / d);
  const at = (x: number, y: number, r: number, t: number) => `${n(x + r * Math.cos(t))} ${n(y + r * Math.sin(t))}`;
  const up = along + open, down = along - open;
  const large = (t: number) => (t > Math.PI ? 1 : 0);
  return `M${at(bx, by, rb, down)}A${n(rb)} ${n(rb)} 0 ${large(2 * open)} 1 ${at(bx, by, rb, up)}`
    + `L${at(ax, ay, ra, up)}A${n(ra)} ${n(ra)} 0 ${large(2 * Math.PI - 2 * open)} 1 ${at(ax, ay, ra, down)}Z`;
}
function disc(x: number, y: number, r: number): string {
  return `M${n(x + r)} ${n(y)}A${n(r)} ${n(r)} 0 0 1 ${n(x - r)} ${n(y)}A${n(r)} ${n(r)} 0 0 1 ${n(x + r)} ${n(y)}Z`;
}

/** A run of balls, each joined to the next. */
export function chain(c: Camera, ...balls: readonly Ball[]): string {
  let d = '';
  for (let i = 1; i < balls.length; i++) {
    const a = balls[i - 1], b = balls[i];
    if (a && b) d += capsule(c, a, b);
  }
  return d;
}

export function flatEgg(c: Camera, e: Egg): Flat {
  const ax = (i: 0 | 1 | 2) => scale(e.axes[i], e.half[i]);
  const x = (v: Vec) => dot(c.right, v) * UNIT * c.flip;
  const y = (v: Vec) => -dot(c.up, v) * UNIT;
  return { x: flatX(c, e.at), y: flatY(c, e.at), rx: [x(ax(0)), x(ax(1)), x(ax(2))], ry: [y(ax(0)), y(ax(1)), y(ax(2))] };
}
export const flatBall = (c: Camera, b: Ball): Flat => ({ x: flatX(c, b.at), y: flatY(c, b.at), rx: [b.r * UNIT, 0, 0], ry: [0, b.r * UNIT, 0] });

/** The directions of a circle, x and y by turns. */
const circles = new Map<number, Float64Array>();
function circle(steps: number): Float64Array {
  let made = circles.get(steps);
  if (!made) {
    made = new Float64Array(2 * steps);
    for (let i = 0; i < steps; i++) {
      made[2 * i] = Math.cos((i / steps) * 2 * Math.PI);
      made[2 * i + 1] = Math.sin((i / steps) * 2 * Math.PI);
    }
    circles.set(steps, made);
  }
  return made;
}

/** The outline around any number of flat shapes, by the farthest point in each direction. Most of a figure's cost is here. */
export function hull(shapes: readonly Flat[], steps = 32): string {
  const round = circle(steps);
  let d = '';
  for (let i = 0; i < steps; i++) {
    const ux = round[2 * i] as number, uy = round[2 * i + 1] as number;
    let best = Number.NEGATIVE_INFINITY, px = 0, py = 0;
    for (let j = 0; j < shapes.length; j++) {
      const s = shapes[j] as Flat;
      const { rx, ry } = s;
      const m0 = rx[0] * ux + ry[0] * uy, m1 = rx[1] * ux + ry[1] * uy, m2 = rx[2] * ux + ry[2] * uy;
      const len = Math.sqrt(m0 * m0 + m1 * m1 + m2 * m2);
      const far = s.x * ux + s.y * uy + len;
      if (far <= best) continue;
      best = far;
      const k = len < 1e-9 ? 0 : 1 / len;
      px = s.x + (rx[0] * m0 + rx[1] * m1 + rx[2] * m2) * k;
      py = s.y + (ry[0] * m0 + ry[1] * m1 + ry[2] * m2) * k;
    }
    d += `${i === 0 ? 'M' : 'L'}${n(px)} ${n(py)}`;
  }
  return `${d}Z`;
}

export const local = (at: Vec, axes: Turn, x: number, y: number, z: number): Vec => add(at, apply(axes, [x, y, z]));
