/** Owns the way back to paused: two taps, because by then it may matter. */
import { useState } from 'react';
import type { StopHere } from '../../../shared/link/use-stop.ts';
import { useDeadTime } from '../hooks/use-dead-time.ts';

export function WayBack({ stop, over }: { stop: StopHere; over: boolean }) {
  const [asked, setAsked] = useState(false);
  const alive = useDeadTime(asked ? 'asked' : 'not', true);
  const press = (what: () => void) => () => { if (alive()) what(); };
  if (!asked) return <div className="stop-foot"><button type="button" className="control" onClick={press(() => setAsked(true))}>Back</button></div>;
  return (
    <div className="stop-foot two">
      <button type="button" className="control" onClick={press(() => setAsked(false))}>Not yet</button>
      <button type="button" className="control strong" onClick={press(stop.back)}>{over ? 'It is over' : 'Back to paused'}</button>
    </div>
  );
}
