/** Owns the one-tap reasons of a pause. None has to be given. */
import { type Pause, pauseReasons } from '../../../shared/session/session.ts';
import { pauseWords } from '../../../shared/view/words.ts';
import type { Taps } from '../hooks/use-taps.ts';

export function Reasons({ pause, taps }: { pause: Pause; taps: Taps }) {
  return (
    <fieldset className="reasons">
      <legend>{pause.reason ? 'Paused for' : 'Paused. What for?'}</legend>
      {pauseReasons.map((reason) => (
        <button
          key={reason}
          type="button"
          className="control"
          aria-pressed={pause.reason === reason}
          data-state={taps.sending.has(`reason-${reason}`) ? 'sending' : 'ready'}
          onClick={() => void taps.tap(`reason-${reason}`, { type: 'pause', reason })}
        >
          {pauseWords[reason]}
        </button>
      ))}
    </fieldset>
  );
}
