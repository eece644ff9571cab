/** Owns vectors and rotations in three dimensions. Right-handed; degrees at the edges. */
export type Vec = readonly [number, number, number];
/** Three columns: where x, y and z point. */
export type Turn = readonly [Vec, Vec, Vec];

const RAD = Math.PI / 180;
export const sin = (deg: number) => Math.sin(deg * RAD);
export const cos = (deg: number) => Math.cos(deg * RAD);
export const atan2 = (y: number, x: number) => Math.atan2(y, x) / RAD;
export const asin = (v: number) => Math.asin(Math.max(-1, Math.min(1, v))) / RAD;

export const add = (a: Vec, b: Vec): Vec => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const sub = (a: Vec, b: Vec): Vec => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec, k: number): Vec => [a[0] * k, a[1] * k, a[2] * k];
export const dot = (a: Vec, b: Vec) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec, b: Vec): Vec => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
export const size = (a: Vec) => Math.sqrt(dot(a, a));
export const unit = (a: Vec): Vec => { const n = size(a); return n < 1e-9 ? [1, 0, 0] : scale(a, 1 / n); };
export const mix = (a: Vec, b: Vec, k: number): Vec => [a[0] + (b[0] - a[0]) * k, a[1] + (b[1] - a[1]) * k, a[2] + (b[2] - a[2]) * k];

export const still: Turn = [[1, 0, 0], [0, 1, 0], [0, 0, 1]];
export const apply = (m: Turn, v: Vec): Vec => [
  m[0][0] * v[0] + m[1][0] * v[1] + m[2][0] * v[2],
  m[0][1] * v[0] + m[1][1] * v[1] + m[2][1] * v[2],
  m[0][2] * v[0] + m[1][2] * v[1] + m[2][2] * v[2],
];
/** Into the turned frame: the transpose applied. */
export const within = (m: Turn, v: Vec): Vec => [dot(m[0], v), dot(m[1], v), dot(m[2], v)];
export const times = (a: Turn, b: Turn): Turn => [apply(a, b[0]), apply(a, b[1]), apply(a, b[2])];
export const relative = (a: Turn, b: Turn): Turn => [within(a, b[0]), within(a, b[1]), within(a, b[2])];
export const aboutX = (d: number): Turn => [[1, 0, 0], [0, cos(d), sin(d)], [0, -sin(d), cos(d)]];
export const aboutY = (d: number): Turn => [[cos(d), 0, -sin(d)], [0, 1, 0], [sin(d), 0, cos(d)]];
export const aboutZ = (d: number): Turn => [[cos(d), sin(d), 0], [-sin(d), cos(d), 0], [0, 0, 1]];
