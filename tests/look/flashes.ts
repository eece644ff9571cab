/**
 * Owns counting flashes as WCAG 2.2 defines a general flash (2.3.1, from Trace Center's work on
 * ITU-R BT.1702): a pair of opposing changes in relative luminance of a tenth or more of the
 * greatest, where the darker is below 0.80, over a quarter of any 10 degrees of what is seen.
 */

/** One picture: relative luminance, 0 to 1, of cells that are equally large. */
export interface Frame {
  readonly atMs: number;
  readonly cells: readonly number[];
}

const CHANGE = 0.1;
const DARK = 0.8;
const SECOND_MS = 1_000;

/** Times at which one cell has changed by a tenth against the direction before. */
export function changesOf(values: readonly number[], times: readonly number[]): number[] {
  const found: number[] = [];
  let extreme = values[0] ?? 0;
  let direction = 0;
  values.forEach((v, k) => {
    const by = v - extreme;
    const enough = Math.abs(by) >= CHANGE && Math.min(v, extreme) < DARK;
    if (direction !== 0 && Math.sign(by) === direction) extreme = v;
    else if (enough) {
      found.push(times[k] ?? 0);
      direction = Math.sign(by);
      extreme = v;
    }
  });
  return found;
}

export interface Worst {
  readonly flashes: number;
  readonly fromMs: number;
}

/**
 * The second with the most flashes: in any second a cell flashes half as often as it changes;
 * the picture flashes as often as that share of its cells does at least.
 * @param share of the picture, 0 to 1
 */
export function worstSecond(frames: readonly Frame[], share: number): Worst {
  const times = frames.map((f) => f.atMs);
  const cells = frames[0]?.cells.length ?? 0;
  const changes = Array.from({ length: cells }, (_, c) => changesOf(frames.map((f) => f.cells[c] ?? 0), times));
  const needed = Math.max(1, Math.ceil(cells * share));
  let worst: Worst = { flashes: 0, fromMs: times[0] ?? 0 };
  for (const fromMs of new Set(changes.flat())) {
    const counts = changes.map((c) => Math.floor(c.filter((t) => t >= fromMs && t < fromMs + SECOND_MS).length / 2)).sort((a, b) => b - a);
    const flashes = counts[needed - 1] ?? 0;
    if (flashes > worst.flashes) worst = { flashes, fromMs };
  }
  return worst;
}
