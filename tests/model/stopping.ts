/** Owns the stop in the second model: while it stands nothing else is taken, and out of it there is only a pause. */
import type { Kind } from '../random/plans.ts';
import type { TickModel } from './tick.ts';

/** Whether it is taken; null where it is nothing of a stop's business. */
export function pressStop(m: TickModel, kind: Kind): boolean | null {
  const stopped = m.stands === 'stopped';
  switch (kind) {
    case 'stop': return m.stand('stopped');
    case 'to-paused': if (stopped) m.stand('paused'); return stopped;
    case 'answer-stop':
    case 'stamp-stop': return stopped;
    default: return stopped ? false : null;
  }
}
