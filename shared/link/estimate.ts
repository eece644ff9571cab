/** Owns the server's time as this device believes it: the least delay of the last eight samples. */
import { between, type DeviceAt, type ServerAt, serverAt } from '../time/units.ts';

/** The four stamps of one exchange (RFC 5905 section 8). */
export interface Sample {
  readonly sentAt: DeviceAt;
  readonly receivedAt: number;
  readonly repliedAt: number;
  readonly arrivedAt: DeviceAt;
}

export interface Estimate {
  readonly add: (sample: Sample) => void;
  /** The device slept: what is known is only kept until the first new sample. */
  readonly woke: () => void;
  readonly now: (at: DeviceAt) => ServerAt | null;
  readonly errorMs: (at: DeviceAt) => number | null;
}

const KEPT = 8;
/** Quartz in devices is good to this many parts in a million. */
const DRIFT = 100e-6;

export function openEstimate(): Estimate {
  let kept: { offsetMs: number; delayMs: number; at: DeviceAt }[] = [];
  let old = false;
  let shown = Number.NEGATIVE_INFINITY;
  const best = () => kept.reduce<(typeof kept)[number] | null>((a, b) => (a && a.delayMs <= b.delayMs ? a : b), null);

  return {
    add: ({ sentAt, receivedAt, repliedAt, arrivedAt }) => {
      const delayMs = Math.max(0, between(sentAt, arrivedAt) - (repliedAt - receivedAt));
      const offsetMs = (receivedAt - sentAt + repliedAt - arrivedAt) / 2;
      kept = [...(old ? [] : kept), { offsetMs, delayMs, at: arrivedAt }].slice(-KEPT);
      if (old) shown = Number.NEGATIVE_INFINITY;
      old = false;
    },
    woke: () => { old = true; },
    now: (at) => {
      const b = best();
      if (!b) return null;
      shown = Math.max(shown, at + b.offsetMs);
      return serverAt(Math.floor(shown));
    },
    errorMs: (at) => {
      const b = best();
      return b && b.delayMs / 2 + DRIFT * between(b.at, at) + 1;
    },
  };
}
