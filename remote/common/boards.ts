/** Owns which boards a floor is drawn with: intervals of one movement are one board, and rounds where those would be slivers. */
import type { Interval } from '../../shared/plan/interval.ts';
import { unitOf } from '../../shared/plan/interval.ts';

export interface Plank {
  readonly id: string;
  readonly section: number;
  readonly startMs: number;
  readonly lengthMs: number;
}

/** More boards than this are slivers on a phone. */
const PLANKS_MAX = 48;

function join(intervals: readonly Interval[], keyOf: (i: Interval) => string): Plank[] {
  const planks: (Plank & { key: string })[] = [];
  let startMs = 0;
  for (const i of intervals) {
    const last = planks.at(-1);
    // A rest belongs to what it leads to, and so it opens the board.
    const key = keyOf(i);
    if (last?.key === key && last.section === i.section) planks[planks.length - 1] = { ...last, lengthMs: last.lengthMs + i.lengthMs };
    else planks.push({ key, id: i.id, section: i.section, startMs, lengthMs: i.lengthMs });
    startMs += i.lengthMs;
  }
  return planks;
}

export function planksOf(intervals: readonly Interval[]): readonly Plank[] {
  const byMovement = join(intervals, (i) => (i.kind === 'rest' && i.item >= 0 ? `${i.section}:${i.round}:${i.item}` : unitOf(i)));
  return byMovement.length <= PLANKS_MAX ? byMovement : join(intervals, (i) => `${i.section}:${i.round}`);
}
