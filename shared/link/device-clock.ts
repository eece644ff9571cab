/** Owns the one place in the pages where a real clock is read: the device's monotonic one, and its timers. */
import { type DeviceAt, deviceAt } from '../time/units.ts';

export interface DeviceClock {
  readonly now: () => DeviceAt;
  /** Runs something after so many milliseconds; gives the way to call it off. */
  readonly afterMs: (ms: number, run: () => void) => () => void;
}

export const deviceClock: DeviceClock = {
  now: () => deviceAt(performance.now()),
  afterMs: (ms, run) => {
    const handle = setTimeout(run, ms);
    return () => clearTimeout(handle);
  },
};
