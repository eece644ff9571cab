/**
 * Owns which boards of the floor are drawn: a floor has as many as the class has
 * intervals, and a board too thin to be seen is laid together with the next.
 * Boards of two sections are never laid together. Leaves alone how they look.
 */
import type { Floor } from '../view/floor.ts';

export interface Plank {
  readonly key: string;
  readonly section: number;
  /** Milliseconds of plan. */
  readonly startMs: number;
  readonly lengthMs: number;
}

/** A board narrower than this share of the floor is a line, not a board. */
export const THINNEST_BOARD = 1 / 80;

export function planksOf(floor: Floor, thinnest: number = THINNEST_BOARD): readonly Plank[] {
  const leastMs = floor.lengthMs * thinnest;
  const planks: Plank[] = [];
  for (const { id, section, startMs, lengthMs } of floor.boards) {
    const last = planks.at(-1);
    if (last && last.section === section && last.lengthMs < leastMs) {
      planks[planks.length - 1] = { ...last, lengthMs: last.lengthMs + lengthMs };
    } else planks.push({ key: id, section, startMs, lengthMs });
  }
  return planks.flatMap((plank, k) => (joinsBack(planks, k, leastMs) ? [] : [widened(planks, k, plank, leastMs)]));
}

/** The thin remainder at the end of a section goes to the board before it. */
function joinsBack(planks: readonly Plank[], k: number, leastMs: number): boolean {
  const [before, plank] = [planks[k - 1], planks[k]];
  return plank !== undefined && before !== undefined && plank.lengthMs < leastMs && before.section === plank.section;
}

function widened(planks: readonly Plank[], k: number, plank: Plank, leastMs: number): Plank {
  const next = planks[k + 1];
  return next && joinsBack(planks, k + 1, leastMs) ? { ...plank, lengthMs: plank.lengthMs + next.lengthMs } : plank;
}
