/** Owns the one place in the pages where the device's clocks are read, and its timers. */
import { type DeviceAt, deviceAt } from '../time/units.ts';

export interface DeviceClock {
  /** Monotonic. */
  readonly now: () => DeviceAt;
  /** The wall clock; only ever compared with itself. */
  readonly wallMs: () => number;
  /** Runs something after so many milliseconds; gives the way to call it off. */
  readonly afterMs: (ms: number, run: () => void) => () => void;
}

export const deviceClock: DeviceClock = {
  now: () => deviceAt(performance.now()),
  wallMs: () => Date.now(),
  afterMs: (ms, run) => {
    const handle = setTimeout(run, ms);
    return () => clearTimeout(handle);
  },
};
