/** Owns how lengths are spread: counts by minute, and the middle of those that are more than a minute. */
import type { Spread } from '../../shared/wire/review.ts';

const MINUTE_MS = 60_000;
/** The last bin holds this many minutes and more. */
const LAST_MIN = 15;
/** Whatever is at most a minute is no lateness that anybody speaks of. */
export const MORE_MS = MINUTE_MS;
/** First bins: of a start, which is never early, and of what came to it on the way. */
export const [START_FROM_MIN, GREW_FROM_MIN] = [0, -5];

export const emptyBins = (firstMin: number): number[] => Array<number>(LAST_MIN - firstMin + 1).fill(0);
/** Which bin a length is counted in. @param firstMin the first bin holds all below its end */
export const binOf = (ms: number, firstMin: number): number => Math.min(LAST_MIN - firstMin, Math.max(0, Math.floor(ms / MINUTE_MS) - firstMin));

export function spreadOf(lengthsMs: readonly number[], firstMin: number): Spread {
  const bins = emptyBins(firstMin);
  for (const ms of lengthsMs) {
    const bin = binOf(ms, firstMin);
    bins[bin] = (bins[bin] ?? 0) + 1;
  }
  const more = lengthsMs.filter((ms) => ms > MORE_MS).sort((a, b) => a - b);
  return { of: lengthsMs.length, more: more.length, medianMs: nearest(more, 0.5), ninetiethMs: nearest(more, 0.9), firstMin, bins };
}

/** The smallest value that so large a part is not above (nearest rank); null of none. */
export const nearest = (sorted: readonly number[], part: number): number | null => sorted[Math.max(0, Math.ceil(part * sorted.length) - 1)] ?? null;
