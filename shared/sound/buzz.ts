/**
 * Owns the buzz of each signal, for devices that can (navigator.vibrate, W3C Vibration API):
 * a pattern of the signal's own rhythm. Given at its instant or a moment later, never before.
 */
import type { SignalKind } from '../view/signal-kinds.ts';

/** Milliseconds of buzz, rest, buzz. A count is one short beat, the last three a double one, an end is long. */
export const buzzes: Readonly<Record<SignalKind, readonly number[]>> = {
  three: [70],
  two: [70],
  one: [70],
  go: [420],
  'last-three': [50, 60, 50],
  'last-two': [50, 60, 50],
  'last-one': [50, 60, 50],
  'ten-left': [90, 60, 90, 60, 260],
  halfway: [120, 90, 120, 90, 120],
  'side-change': [160, 60, 60, 60, 160, 60, 60],
  end: [200, 90, 400],
  'section-end': [120, 60, 120, 60, 400],
  'class-end': [150, 70, 150, 70, 150, 70, 700],
  paused: [600],
  resumed: [120, 60, 360],
};

/** Whether this device says that it can; a tablet may say so and have no motor. */
export const canBuzz = (): boolean => typeof navigator !== 'undefined' && typeof navigator.vibrate === 'function';

/** A pattern that begins takes the place of one that runs. Refused until the page was touched, which is no fault. */
export function buzz(kind: SignalKind): void {
  if (canBuzz()) navigator.vibrate([...buzzes[kind]]);
}
