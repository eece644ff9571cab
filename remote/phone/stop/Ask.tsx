/** Owns the first seconds of a stop: three large answers, and what happens if nobody gives one. */
import type { StopHere } from '../../../shared/link/use-stop.ts';
import { useDeadTime } from '../hooks/use-dead-time.ts';

export function Ask({ stop }: { stop: StopHere }) {
  return (
    <section className="stop-body stop-ask">
      <p>All is still. The screen says “Please stop”.</p>
      <button type="button" className="control strong" onClick={() => stop.answer('help')}>Someone needs help</button>
      <button type="button" className="control" onClick={() => stop.answer('out')}>Everyone out</button>
      <Slip back={stop.back} />
      <p className="quiet-words">Left alone, this becomes “Someone needs help”.</p>
    </section>
  );
}

/** A double tap on Stop must not take it back. */
function Slip({ back }: { back: () => void }) {
  const alive = useDeadTime('slip', true);
  return <button type="button" className="control" onClick={() => { if (alive()) back(); }}>It was a slip</button>;
}
