/**
 * Owns the floor: the class plan as boards to scale, walked from left to right. A
 * notch marks now; what has been walked is dark; sections differ in wood and
 * grain. Lateness is floor past the end post: for the phone only, the room is
 * never told. Leaves alone the clock.
 *
 * Who repaints at every frame calls `walk` with the element (`nowRef`).
 */
import { memo, type Ref, useMemo } from 'react';
import type { Floor as FloorPlan } from '../view/floor.ts';
import { planksOf } from './boards.ts';
import './custom-properties.ts';
import './floor.css';
import { moveTo } from './move-to.ts';

export interface FloorProps {
  readonly floor: FloorPlan;
  /** Milliseconds of plan that have been walked (`view().floorMs`). */
  readonly atMs: number;
  /** Milliseconds past the promised end; only the phone says it. */
  readonly overrunMs?: number;
  /** False where nothing is to be marked: before a class and after it. */
  readonly notch?: boolean;
  readonly nowRef?: Ref<HTMLDivElement>;
}

/** Woods and grains there are; sections take them in turn. */
const WOODS = 3;

export function Floor({ floor, atMs, overrunMs = 0, notch = true, nowRef }: FloorProps) {
  const wholeMs = Math.max(1, floor.lengthMs + overrunMs);
  const { dark, now } = walkedTo(shareOfFloor(floor, atMs, overrunMs));
  return (
    <div className="floor" ref={nowRef} aria-hidden>
      <Boards floor={floor} wholeMs={wholeMs} />
      <div className="floor-walked"><div className="floor-dark" style={{ transform: dark }} /></div>
      {overrunMs > 0 && <div className="floor-overrun" style={{ left: `${(floor.lengthMs / wholeMs) * 100}%` }} />}
      {notch && <div className="floor-now" style={{ transform: now }}><div className="floor-notch" /></div>}
    </div>
  );
}

/** Steps of the whole floor: less than a fifth of a pixel of a screen with 1920 columns. */
const STEPS = 10_000;
function walkedTo(share: number): { readonly dark: string; readonly now: string } {
  const step = Math.round(share * STEPS);
  return { dark: `scaleX(${step / STEPS})`, now: `translateX(${(100 * step) / STEPS}%)` };
}

/** Walks a floor that is drawn. @param share 0 to 1 */
export function walk(floor: Element | null, share: number): void {
  if (!floor) return;
  const { dark, now } = walkedTo(share);
  moveTo(floor.querySelector<HTMLElement>('.floor-dark'), dark);
  moveTo(floor.querySelector<HTMLElement>('.floor-now'), now);
}

export const shareOfFloor = (floor: FloorPlan, atMs: number, overrunMs = 0): number =>
  Math.min(1, Math.max(0, atMs / Math.max(1, floor.lengthMs + overrunMs)));

const Boards = memo(function Boards({ floor, wholeMs }: { floor: FloorPlan; wholeMs: number }) {
  const planks = useMemo(() => planksOf(floor), [floor]);
  return planks.map((p, k) => (
    <div
      key={p.key}
      className="floor-board"
      data-wood={p.section % WOODS}
      style={{
        left: `${(p.startMs / wholeMs) * 100}%`,
        width: `${(p.lengthMs / wholeMs) * 100}%`,
        // Each board is cut from another place of the wood.
        '--cut': `${(k * 137) % 400}px`,
      }}
    />
  ));
});
