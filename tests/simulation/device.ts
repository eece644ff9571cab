/**
 * Owns one device of a simulated world: its two clocks, its sleep, and the timers
 * that wait for it. Leaves alone what runs on it (wire.ts, the real link).
 */
import { type DeviceAt, deviceAt } from '../../shared/time/units.ts';
import type { VirtualTime } from './virtual-time.ts';

export interface DeviceModel {
  readonly role: 'screen' | 'phone';
  readonly ppm: number;
  /** Least step of its monotonic clock, ms. */
  readonly tickMs: number;
  /** Whether its monotonic clock stands still while it sleeps, as most do. */
  readonly standsStill: boolean;
  readonly monotonicAt0: number;
  readonly wallAheadMs: number;
}

export class DeviceClocks {
  asleep = false;
  private wallStepMs = 0;
  /** When somebody last set its wall clock, in true time. */
  wallSetAt = 0;
  /** When it last woke, in true time. */
  wokeAt = 0;
  private stoodMs = 0;
  private sleptAt = 0;
  private readonly late: (() => void)[] = [];
  private readonly time: VirtualTime;
  private readonly model: DeviceModel;

  constructor(time: VirtualTime, model: DeviceModel) {
    this.time = time;
    this.model = model;
  }

  private get rate(): number {
    return 1 + this.model.ppm * 1e-6;
  }
  private get exact(): number {
    const { monotonicAt0, standsStill } = this.model;
    const stands = this.asleep && standsStill ? this.time.now - this.sleptAt : 0;
    return monotonicAt0 + (this.time.now - this.stoodMs - stands) * this.rate;
  }
  readonly now = (): DeviceAt => {
    const { tickMs } = this.model;
    return deviceAt(tickMs > 0 ? Math.floor(this.exact / tickMs) * tickMs : this.exact);
  };
  readonly wall = (): number =>
    Math.floor(1_750_000_000_000 + this.model.wallAheadMs + this.time.now * this.rate + this.wallStepMs);

  /** Runs something now, or once the device is awake. */
  readonly awake = (run: () => void): void => {
    if (this.asleep) this.late.push(run);
    else run();
  };
  /** A timer of the device: by its own clock, and never in its sleep. */
  readonly afterMs = (ms: number, run: () => void): (() => void) => {
    const dueAt = this.exact + Math.max(0, ms);
    let callOff = () => {};
    let off = false;
    const look = () => {
      if (off) return;
      if (this.asleep) {
        this.late.push(look);
        return;
      }
      const leftMs = dueAt - this.exact;
      if (leftMs <= 1e-6) run();
      else callOff = this.time.after(leftMs / this.rate, look);
    };
    callOff = this.time.after(Math.max(0, ms) / this.rate, look);
    return () => {
      off = true;
      callOff();
    };
  };

  setWall(byMs: number): void {
    this.wallStepMs += byMs;
    this.wallSetAt = this.time.now;
  }
  sleep(ms: number): void {
    if (this.asleep) return;
    this.asleep = true;
    this.sleptAt = this.time.now;
    this.time.after(ms, () => {
      if (this.model.standsStill) this.stoodMs += this.time.now - this.sleptAt;
      this.asleep = false;
      this.wokeAt = this.time.now;
      for (const run of this.late.splice(0)) this.time.after(0, run);
    });
  }
}
