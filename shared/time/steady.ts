/**
 * Owns the clock that is shown: it follows the estimate without hurrying, and does not run
 * backwards. Leaves alone where the estimate comes from (offset.ts).
 */
import type { Estimate } from './offset.ts';
import { after, between, type DeviceAt, later, type ServerAt } from './units.ts';

/** What was last shown, and when. */
export interface Steady {
  readonly shownAt: ServerAt;
  readonly readAt: DeviceAt;
}

/** 5 ms a second: a countdown second stays a second to the eye. Common practice, no source. */
export const SLEW = 0.005;
/** Farther off than this it jumps forward at once (step threshold of RFC 5905). */
export const STEP_MS = 125;
/** Ahead by up to this it stands still until the truth has come; ahead by more, only a jump back helps. */
export const HOLD_MOST_MS = 1_000;

/**
 * The shown clock at `now`. Per second of the device's own clock it gains or loses at most 5 ms
 * on it. It jumps only on the first estimate, and forward when the estimate is still settling or
 * more than `STEP_MS` ahead; where it would have to jump back it stands still. It goes back only
 * when it is over a second ahead: the server lives in another time than before.
 * Without an estimate it goes on by itself and claims no bound. `errorMs` counts the way still to slew.
 */
export const read = (
  steady: Steady | null,
  estimate: Estimate | null,
  now: DeviceAt,
): { readonly serverAt: ServerAt; readonly errorMs: number | null; readonly steady: Steady } | null => {
  if (steady === null) {
    return estimate === null ? null : shown(estimate.serverAt, estimate, now);
  }
  const passedMs = Math.max(between(steady.readAt, now), 0);
  const byItself = after(steady.shownAt, passedMs);
  if (estimate === null) return shown(byItself, null, now);
  const behindMs = between(byItself, estimate.serverAt);
  const slewMs = Math.min(Math.max(behindMs, -SLEW * passedMs), SLEW * passedMs);
  const atOnce = estimate.settling || Math.abs(behindMs) > STEP_MS;
  if (!atOnce) return shown(after(byItself, slewMs), estimate, now);
  if (behindMs >= 0 || behindMs < -HOLD_MOST_MS) return shown(estimate.serverAt, estimate, now);
  return shown(later(estimate.serverAt, steady.shownAt), estimate, now);
};

const shown = (serverAt: ServerAt, estimate: Estimate | null, now: DeviceAt) => ({
  serverAt,
  errorMs: estimate === null ? null : estimate.errorMs + Math.abs(between(serverAt, estimate.serverAt)),
  steady: { shownAt: serverAt, readAt: now },
});
