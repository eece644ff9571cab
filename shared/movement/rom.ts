/**
 * Owns how far joints go, and by how much a pose goes farther. Degrees.
 *
 * Shoulder, elbow, wrist, forearm: AAOS values as tabulated in Norkin & White,
 * Measurement of Joint Motion, appendix A. Trunk: US 38 CFR 4.71a, note (2):
 * flexion 90, extension 30, side 30, rotation 30; neck: flexion, extension and
 * side 45, rotation 80. Ankle: AAOS 20 and 50. Hip and knee: AAOS values from
 * memory (120, 30, 45, 30, 45, 45; 135).
 */
import type { Arm, Leg, Pose } from './pose.ts';

type Range = readonly [number, number];
export const RANGE = {
  hip: [-30, 120], 'hip abduction': [-30, 45], 'hip rotation': [-45, 45], knee: [0, 135], ankle: [-50, 20],
  shoulder: [-60, 180], 'shoulder abduction': [-45, 180], 'shoulder rotation': [-90, 70], elbow: [0, 150], wrist: [-80, 70],
  trunk: [-30, 90], 'trunk side': [-30, 30], 'trunk rotation': [-30, 30],
  neck: [-45, 45], 'neck side': [-45, 45], 'neck rotation': [-80, 80],
} as const satisfies Record<string, Range>;
export type Joint = keyof typeof RANGE;

/** A joint beyond its range: its value, and by how many degrees. */
export interface Strain { joint: Joint; side: 'left' | 'right' | null; value: number; over: number }

/** In a straighter arm the shoulder's turn and the forearm's cannot be told apart. */
const NEARLY_STRAIGHT = 25;

const legJoints = (l: Leg): [Joint, number][] => [
  ['hip', l.flexion], ['hip abduction', l.abduction], ['hip rotation', l.rotation], ['knee', l.knee], ['ankle', l.ankle],
];
const armJoints = (a: Arm): [Joint, number][] => [
  ['shoulder', a.flexion], ['shoulder abduction', a.abduction], ...(a.elbow < NEARLY_STRAIGHT ? [] : [['shoulder rotation', a.rotation] as [Joint, number]]), ['elbow', a.elbow], ['wrist', a.wrist],
];

/** Every joint of a pose beyond its range (or beyond what the movement allows itself, by joint). */
export function strains(p: Pose, beyond: readonly { joint: string; to: number }[]): Strain[] {
  const found: Strain[] = [];
  const test = (side: Strain['side'], [joint, value]: [Joint, number]) => {
    const [low, high] = RANGE[joint];
    const own = beyond.filter((b) => b.joint === joint).map((b) => b.to);
    const over = Math.max(value - Math.max(high, ...own), Math.min(low, ...own) - value);
    if (over > 0.01) found.push({ joint, side, value, over });
  };
  for (const side of ['left', 'right'] as const) {
    for (const j of legJoints(side === 'left' ? p.leftLeg : p.rightLeg)) test(side, j);
    for (const j of armJoints(side === 'left' ? p.leftArm : p.rightArm)) test(side, j);
  }
  for (const j of [['trunk', p.trunk.flexion], ['trunk side', p.trunk.side], ['trunk rotation', p.trunk.rotation]] as [Joint, number][]) test(null, j);
  for (const j of [['neck', p.neck.flexion], ['neck side', p.neck.side], ['neck rotation', p.neck.rotation]] as [Joint, number][]) test(null, j);
  return found;
}
