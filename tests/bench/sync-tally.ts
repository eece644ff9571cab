/**
 * Owns the counting: errors of the shown clock over all instants of all seeds, and the
 * promises about it (bound, first impression, waking, never back, slow slew).
 */
import type { Shown } from './sync-contenders.ts';
import type { World } from './sync-world.ts';

export interface Figures {
  readonly p50: string;
  readonly p95: string;
  readonly p99: string;
  readonly worst: string;
  readonly probes: string;
  /** Ms from connecting to the first estimate, median. */
  readonly first: string;
  readonly 'at first p95': string;
  readonly 'at 0.3 s p95': string;
  /** Ms from waking until it is right to 5 ms and stays so for the next 0.5 s. */
  readonly 'woken p95': string;
  readonly 'bound holds %': string;
  readonly 'bound mean': string;
  /** How often the shown clock went back. */
  readonly back: string;
  /** Greatest change in ms a second against the device's own clock, once settled: a jump would show as thousands. */
  readonly slew: string;
}

const RIGHT_MS = 5;
/** For so long after connecting and after an event the first impression may be put right at once; slews are counted after. */
const SETTLED_MS = 1_500;

const at = (sorted: Float64Array | number[], share: number): number =>
  sorted[Math.min(Math.floor(sorted.length * share), sorted.length - 1)] ?? Number.NaN;
const digits = (x: number): string => (Number.isNaN(x) ? '-' : x >= 1_000 ? x.toFixed(0) : x >= 100 ? x.toFixed(1) : x.toFixed(2));
const sortedOf = (xs: number[]): Float64Array => Float64Array.from(xs).sort();

export class Tally {
  private errors: number[] = [];
  private probes: number[] = [];
  private firsts: number[] = [];
  private atFirst: number[] = [];
  private at300: number[] = [];
  private woken: number[] = [];
  private bounds = { held: 0, claimed: 0, unclaimed: 0, sum: 0 };
  private back = 0;
  private slewMost = 0;

  run(world: World): { look: (shown: Shown | null) => void; end: () => void } {
    let before: { at: number; mono: number } | null = null;
    let heard = false;
    let wrongUntil = 0;
    let watched300 = false;
    let lastAwake = Number.NEGATIVE_INFINITY;
    const look = (shown: Shown | null): void => {
      if (shown === null) return;
      const error = Math.abs(shown.at - world.server);
      if (!heard) {
        this.firsts.push(world.awake);
        this.atFirst.push(error);
        heard = true;
      }
      if (!watched300 && world.awake >= 300) {
        this.at300.push(error);
        watched300 = true;
      }
      if (world.awake - lastAwake >= 99.9) {
        lastAwake = world.awake;
        this.errors.push(error);
        if (shown.errorMs === null) this.bounds.unclaimed++;
        else {
          this.bounds.claimed++;
          this.bounds.sum += shown.errorMs;
          if (error <= shown.errorMs) this.bounds.held++;
        }
      }
      const sinceEvent = world.awake - world.eventAt;
      if (sinceEvent >= 0 && sinceEvent < 1_000 && error > RIGHT_MS) wrongUntil = sinceEvent + 10;
      if (before !== null) {
        const passed = world.mono - before.mono;
        const gained = shown.at - before.at - passed;
        if (shown.at < before.at) this.back++;
        const settled = world.awake > SETTLED_MS && (sinceEvent < 0 || sinceEvent > SETTLED_MS);
        if (passed > 0 && settled) this.slewMost = Math.max(this.slewMost, (Math.abs(gained) - 1e-3) / passed);
      }
      before = { at: shown.at, mono: world.mono };
    };
    const end = (): void => {
      this.probes.push(world.probes);
      if (world.model.sleepMs > 0) this.woken.push(wrongUntil);
    };
    return { look, end };
  }

  figures(): Figures {
    const errors = sortedOf(this.errors);
    const { held, claimed, sum } = this.bounds;
    return {
      p50: digits(at(errors, 0.5)),
      p95: digits(at(errors, 0.95)),
      p99: digits(at(errors, 0.99)),
      worst: digits(errors.at(-1) ?? Number.NaN),
      probes: digits(this.probes.reduce((a, b) => a + b, 0) / this.probes.length),
      first: digits(at(sortedOf(this.firsts), 0.5)),
      'at first p95': digits(at(sortedOf(this.atFirst), 0.95)),
      'at 0.3 s p95': digits(at(sortedOf(this.at300), 0.95)),
      'woken p95': digits(at(sortedOf(this.woken), 0.95)),
      'bound holds %': claimed === 0 ? '-' : ((100 * held) / claimed).toFixed(3),
      'bound mean': claimed === 0 ? '-' : digits(sum / claimed),
      back: String(this.back),
      slew: digits(this.slewMost * 1_000),
    };
  }
}
