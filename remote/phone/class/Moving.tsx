/** Owns the phone while the room keeps moving: how long it has, and the ways on. Nobody is told why. */
import { between, type ServerAt } from '../../../shared/time/units.ts';
import type { Moving as Moves } from '../../../shared/view/view.ts';
import type { Taps } from '../hooks/use-taps.ts';
import { sinceWords } from '../stop/since.ts';
import { Control } from './Control.tsx';

interface Props {
  readonly moving: Moves;
  readonly now: ServerAt;
  readonly taps: Taps;
  readonly onEnd: () => void;
}

export function movingWords({ since, aimAt }: Moves, now: ServerAt): string {
  const for_ = sinceWords(between(since, now));
  return aimAt === null ? `for ${for_}` : `${for_} of ${sinceWords(between(since, aimAt))}`;
}

export function Moving({ moving, now, taps, onEnd }: Props) {
  return (
    <div className="moving">
      <p>The screen shows an easy march and no reason, <b>{movingWords(moving, now)}</b>.<span className="ease"> Take your time.</span></p>
      <div className="moving-ways">
        <Control name="pause" command={{ type: 'pause', reason: null }} taps={taps}>Stand still</Control>
        <button type="button" className="control" onClick={onEnd}>End early</button>
      </div>
    </div>
  );
}
