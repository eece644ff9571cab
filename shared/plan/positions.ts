/**
 * Owns how long bodies need to get from one position to another. All figures
 * are common practice, no source; a studio's own eyes are better.
 */
import { COUNT_IN_MS } from '../limits.ts';
import { onFloor, type Position } from '../movement/movement.ts';
import type { Plan } from './plan.ts';

type Group = Plan['group'];

/** Milliseconds to another position while staying on the floor, to or from the floor, and to turn to the other side. */
const needs: Record<Group, { upright: number; onFloor: number; kneel: number; lie: number; otherSide: number; turnOver: number }> = {
  general: { upright: COUNT_IN_MS, onFloor: 5_000, kneel: 6_000, lie: 8_000, otherSide: 5_000, turnOver: 8_000 },
  beginners: { upright: 5_000, onFloor: 7_000, kneel: 8_000, lie: 10_000, otherSide: 6_000, turnOver: 10_000 },
  'older-adults': { upright: 5_000, onFloor: 10_000, kneel: 12_000, lie: 15_000, otherSide: 10_000, turnOver: 12_000 },
  pregnancy: { upright: 5_000, onFloor: 8_000, kneel: 10_000, lie: 12_000, otherSide: 8_000, turnOver: 12_000 },
  returning: { upright: 5_000, onFloor: 8_000, kneel: 10_000, lie: 12_000, otherSide: 6_000, turnOver: 10_000 },
};
const low = (p: Position): boolean => p === 'seated' || p === 'face-up' || p === 'face-down' || p === 'side-lying';

/** Milliseconds of set-up between two positions. Never less than a count-in. */
export function setUpNeedMs(from: Position, to: Position, group: Group): number {
  const need = needs[group];
  if (from === to) return COUNT_IN_MS;
  if (!onFloor(from) && !onFloor(to)) return need.upright;
  if (onFloor(from) && onFloor(to)) return need.onFloor;
  return low(from) || low(to) ? need.lie : need.kneel;
}

/** Milliseconds to get into a position from standing; nothing for one that stands already. */
export const floorTimeMs = (to: Position, group: Group): number => (onFloor(to) ? setUpNeedMs('standing', to, group) : 0);

/** Milliseconds between the two sides of one movement. */
export const otherSideMs = (position: Position, group: Group): number =>
  position === 'side-lying' ? needs[group].turnOver : needs[group].otherSide;
