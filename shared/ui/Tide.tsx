/**
 * Owns the tide: clay that fills the room behind the body and sinks to the floor
 * while work lasts. Solid is work, an outline is waiting, hatched is paused.
 * Leaves alone the body and the words in front of it.
 *
 * The body is a mirror: the left half of the picture is the participant's left.
 * Who repaints at every frame sets `--share` on the element (`shareRef`).
 */
import type { Ref } from 'react';
import type { Half, View } from '../view/view.ts';
import './custom-properties.ts';
import './tide.css';

export interface TideProps {
  readonly view: Pick<View, 'tide' | 'share' | 'paused' | 'closing' | 'phase'>;
  readonly shareRef?: Ref<HTMLDivElement>;
}

export function Tide({ view, shareRef }: TideProps) {
  const { left, right } = view.tide;
  const split = left !== right;
  return (
    <div className="tide" ref={shareRef} style={{ '--share': view.share }} data-paused={view.paused !== null || undefined} data-phase={view.phase} aria-hidden>
      {split ? (
        <>
          <Clay half={left} side="left" waits={left === 'outline' && right === 'solid'} />
          <Clay half={right} side="right" waits={right === 'outline' && left === 'solid'} />
        </>
      ) : (
        <Clay half={left} side="both" waits={false} />
      )}
    </div>
  );
}

/** The side that waits for its turn is full; whatever else is drawn sinks. */
function Clay({ half, side, waits }: { half: Half; side: 'left' | 'right' | 'both'; waits: boolean }) {
  if (half === 'none') return null;
  return (
    <div className="tide-half" data-side={side}>
      <div className="tide-clay" data-half={half} data-waits={waits || undefined} />
    </div>
  );
}
