/** Owns a clock of class time that runs a number of times as fast as the device's. Its rate is all that sets it apart. */
import { after, type ServerAt } from '../../../shared/time/units.ts';

export interface RateClock {
  readonly now: () => ServerAt;
  readonly rate: () => number;
  /** Goes on from where it is, at another rate. */
  readonly setRate: (rate: number) => void;
}

/** @param deviceMs a clock of the device that never runs backwards */
export function rateClock(from: ServerAt, first: number, deviceMs: () => number): RateClock {
  let anchor = { at: from, deviceMs: deviceMs() };
  let rate = first;
  const now = (): ServerAt => after(anchor.at, Math.floor((deviceMs() - anchor.deviceMs) * rate));
  return {
    now,
    rate: () => rate,
    setRate: (next) => {
      anchor = { at: now(), deviceMs: deviceMs() };
      rate = next;
    },
  };
}
