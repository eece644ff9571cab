/** Owns how lengths are spread: counts by minute, and the middle of those that are more than a minute. */
import type { Spread } from '../../shared/wire/review.ts';

const MINUTE_MS = 60_000;
/** The last bin holds this many minutes and more. */
const LAST_MIN = 15;

/** @param firstMin the first bin holds all below its end */
export function spreadOf(lengthsMs: readonly number[], firstMin: number): Spread {
  const bins = Array<number>(LAST_MIN - firstMin + 1).fill(0);
  for (const ms of lengthsMs) {
    const bin = Math.min(bins.length - 1, Math.max(0, Math.floor(ms / MINUTE_MS) - firstMin));
    bins[bin] = (bins[bin] ?? 0) + 1;
  }
  const more = lengthsMs.filter((ms) => ms > MINUTE_MS).sort((a, b) => a - b);
  return { of: lengthsMs.length, more: more.length, medianMs: nearest(more, 0.5), ninetiethMs: nearest(more, 0.9), firstMin, bins };
}

/** The smallest value that so large a part is not above (nearest rank); null of none. */
export const nearest = (sorted: readonly number[], part: number): number | null => sorted[Math.max(0, Math.ceil(part * sorted.length) - 1)] ?? null;
