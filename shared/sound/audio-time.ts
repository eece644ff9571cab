/**
 * Owns the relation between the device's clock and the audio clock: which moment
 * of the audio clock is heard when. Pure; the readings are handed in. All in
 * milliseconds; "ahead" is audio time less device time.
 */

/** What the browser says at one moment. Safari has no output latency, older browsers no output stamp. */
export interface Reading {
  readonly deviceMs: number;
  readonly currentMs: number;
  readonly baseLatencyMs: number;
  readonly outputLatencyMs: number;
  /** The browser's own statement: this part of the audio is heard at that moment of the device's clock. */
  readonly stamp: { readonly audioMs: number; readonly deviceMs: number } | null;
}

/** A second of readings, so that a change is believed after half of one. */
export const READINGS = 20;
/** A stamp further from the present than this is not one (some browsers give zeros before they sound). */
const STAMP_OLDEST_MS = 2_000;

const plausible = (r: Reading): boolean =>
  r.stamp !== null && r.stamp.audioMs > 0 && r.stamp.audioMs <= r.currentMs && Math.abs(r.deviceMs - r.stamp.deviceMs) < STAMP_OLDEST_MS;

const middle = (xs: readonly number[]): number => [...xs].sort((a, b) => a - b)[Math.floor(xs.length / 2)] ?? 0;

/**
 * Audio time that is heard, less device time; null before the first reading. The
 * middle of the browser's stamps. Without stamps: the current time moves in steps
 * of a buffer and always lags, so its furthest value, less what it says of its latency.
 */
export function aheadMs(readings: readonly Reading[]): number | null {
  const newest = readings.at(-1);
  if (!newest) return null;
  const stamps = readings.filter(plausible).flatMap((r) => (r.stamp ? [r.stamp.audioMs - r.stamp.deviceMs] : []));
  if (stamps.length > readings.length / 2) return middle(stamps);
  return Math.max(...readings.map((r) => r.currentMs - r.deviceMs)) - newest.baseLatencyMs - newest.outputLatencyMs;
}

/** Adds a reading and forgets the oldest. */
export const withReading = (readings: readonly Reading[], r: Reading): readonly Reading[] => [...readings, r].slice(-READINGS);

/** Reads an audio context. */
export function read(ctx: AudioContext, deviceMs: number): Reading {
  const stamp = typeof ctx.getOutputTimestamp === 'function' ? ctx.getOutputTimestamp() : null;
  const given = stamp?.contextTime !== undefined && stamp.performanceTime !== undefined;
  return {
    deviceMs,
    currentMs: ctx.currentTime * 1_000,
    baseLatencyMs: (ctx.baseLatency || 0) * 1_000,
    outputLatencyMs: (ctx.outputLatency || 0) * 1_000,
    stamp: given ? { audioMs: (stamp.contextTime ?? 0) * 1_000, deviceMs: stamp.performanceTime ?? 0 } : null,
  };
}
