/**
 * Owns the tide: clay that fills the room behind the body and sinks to the floor
 * while work lasts. Solid is work, an outline is waiting, hatched is paused.
 * Leaves alone the body and the words in front of it.
 *
 * The body is a mirror: the left half of the picture is the participant's left.
 * Who repaints at every frame calls `sink` with the element (`shareRef`).
 */
import type { Ref } from 'react';
import type { Half, View } from '../view/view.ts';
import { moveTo } from './move-to.ts';
import './tide.css';

export interface TideProps {
  readonly view: Pick<View, 'tide' | 'share' | 'paused' | 'closing' | 'phase'>;
  readonly shareRef?: Ref<HTMLDivElement>;
}

export function Tide({ view, shareRef }: TideProps) {
  const { left, right } = view.tide;
  const split = left !== right;
  return (
    <div className="tide" ref={shareRef} data-paused={view.paused !== null || undefined} data-phase={view.phase} aria-hidden>
      {split ? (
        <>
          <Clay half={left} side="left" waits={left === 'outline' && right === 'solid'} share={view.share} />
          <Clay half={right} side="right" waits={right === 'outline' && left === 'solid'} share={view.share} />
        </>
      ) : (
        <Clay half={left} side="both" waits={false} share={view.share} />
      )}
    </div>
  );
}

/** Steps of the whole height: less than half a pixel of a screen with 1080 lines. */
const STEPS = 2_000;
const sunk = (share: number): string => `translateY(${(100 * Math.round((1 - share) * STEPS)) / STEPS}%)`;

/** Sinks a tide that is drawn: one transform, which nothing else inherits, so no other style is looked at. */
export function sink(tide: Element | null, share: number): void {
  for (const half of tide?.children ?? []) {
    const clay = half.firstElementChild as HTMLElement | null;
    if (clay && clay.dataset.waits === undefined) moveTo(clay, sunk(share));
  }
}

/** The side that waits for its turn is full; whatever else is drawn sinks. */
function Clay({ half, side, waits, share }: { half: Half; side: 'left' | 'right' | 'both'; waits: boolean; share: number }) {
  if (half === 'none') return null;
  return (
    <div className="tide-half" data-side={side}>
      <div className="tide-clay" data-half={half} data-waits={waits || undefined} style={{ transform: waits ? 'none' : sunk(share) }} />
    </div>
  );
}
