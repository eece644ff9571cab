/**
 * Owns what any two-way method could know 0.3 s after connecting: half the difference of the
 * least delays among the samples that can have arrived by then. Alone: npx tsx tests/bench/sync-limit.ts
 */
import { models } from './sync-models.ts';
import { percentile, table } from './table.ts';
import { chanceOf, type Leg } from './sync-world.ts';

/** When the probes of a burst leave (shared/time/offset.ts), and until when an answer counts. */
const LEAVES_MS = [0, 2, 4, 29, 54, 79, 104, 129, 154, 179];
const UNTIL_MS = 300;
const SEEDS = 1_000;

/** Arrival of what leaves at an instant; null where it is lost. In order, nothing overtakes. */
const way = (leg: Leg, inOrder: boolean) => {
  let last = 0;
  return (at: number): number | null => {
    const ms = leg(at);
    if (ms === null) return null;
    last = inOrder ? Math.max(last, at + ms) : at + ms;
    return last;
  };
};

const rows = models.map(({ name, legs, inOrder }) => {
  const halves = Array.from({ length: SEEDS }, (_, seed) => {
    const { up, down } = legs(chanceOf(seed + 1));
    const [there, back] = [way(up, inOrder), way(down, inOrder)];
    let [most, least] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (const at of LEAVES_MS) {
      const arrives = there(at);
      const returns = arrives === null ? null : back(arrives);
      if (arrives === null || returns === null || returns > UNTIL_MS) continue;
      most = Math.min(most, arrives - at);
      least = Math.min(least, returns - arrives);
    }
    return Number.isFinite(most) ? Math.abs(most - least) / 2 : Number.MAX_SAFE_INTEGER;
  });
  const without = halves.filter((h) => h === Number.MAX_SAFE_INTEGER).length;
  const had = halves.filter((h) => h < Number.MAX_SAFE_INTEGER);
  const all = percentile(halves, 0.95);
  return [name, percentile(had, 0.5), percentile(had, 0.95), all < Number.MAX_SAFE_INTEGER ? all : 'endless', String(without)];
});
table(`What can be known 0.3 s after connecting, ms off; seeds 1 to ${SEEDS}`, [
  ['', 'p50', 'p95', 'p95, nothing there being endless', 'nothing there yet'], ...rows,
]);
