/**
 * Owns the lengths and masses of the body. Leaves alone how it is posed (pose.ts).
 *
 * Lengths are fractions of stature: Drillis & Contini 1966, Body Segment
 * Parameters, as drawn in Winter, Biomechanics and Motor Control of Human
 * Movement, fig. 4.1. The published breadths are of the outside of the body; the
 * joints lie inside by the thickness of the limb. How the trunk is divided is ours.
 */
export const SEGMENT = {
  footHeight: 0.039, shank: 0.246, thigh: 0.245, trunk: 0.288, neck: 0.052, head: 0.13,
  upperArm: 0.186, forearm: 0.146, hand: 0.108, footLength: 0.152, shoulderBreadth: 0.259, hipBreadth: 0.191,
} as const;

/** The trunk bends in two places; three pieces that add up to it. */
export const TRUNK_PARTS = { pelvis: 0.098, loin: 0.075, thorax: 0.115 } as const;
export const HIP_HALF = SEGMENT.hipBreadth / 2 - 0.047;
export const SHOULDER_HALF = SEGMENT.shoulderBreadth / 2 - 0.026;
/** The foot from the ankle: heel behind, ball and toe ahead; the whole is the published foot length. */
export const FOOT = { heel: -0.036, ball: 0.07, toe: 0.116 } as const;
export const STANDING_HIP = SEGMENT.footHeight + SEGMENT.shank + SEGMENT.thigh;

/**
 * Share of body mass of each segment and where its centre lies from its upper
 * end. Shares: Winter, table 4.1 (from memory). Centres of limbs: Plagenhoef,
 * Evans & Abdelnour 1983, male.
 */
export const MASS = {
  head: [0.081, 0.5], trunk: [0.497, 0.5], upperArm: [0.028, 0.436], forearm: [0.016, 0.43], hand: [0.006, 0.5],
  // biome-ignore lint/suspicious/noApproximativeNumericConstant: a published share of the shank, not a logarithm
  thigh: [0.1, 0.433], shank: [0.0465, 0.434], foot: [0.0145, 0.5],
} as const;
