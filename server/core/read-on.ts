/**
 * Owns reading a room's log again: after an append of which nobody knows whether it is
 * there, and where another server has added to it. Leaves alone who decides.
 */
import { after, type ServerAt } from '../../shared/time/units.ts';
import { NotUnderstood, type Row } from './store.ts';

/** Between two tries. */
const READ_AGAIN_MS = 250;

interface Patience {
  readonly now: () => ServerAt;
  readonly timer: (at: ServerAt, run: () => void) => () => void;
  readonly warn: (sentence: string) => void;
}

/** Whoever waits for an answer is not kept longer for a second look. */
const LOOK_MS = 300;

/** Asks until it is answered: meanwhile the room decides nothing, and what waits grows stale. Rejects where a log is there and is not understood. */
export async function surely(ask: () => Promise<readonly Row[]>, { now, timer, warn }: Patience, ended: () => boolean): Promise<readonly Row[]> {
  for (;;) {
    try {
      return await ask();
    } catch (error) {
      if (error instanceof NotUnderstood || ended()) throw error;
      warn(`the log cannot be read (${String(error)}); trying again`);
      await new Promise<void>((resolve) => { timer(after(now(), READ_AGAIN_MS), resolve); });
    }
  }
}

/** Asks once and not for long; nothing where there was no answer. */
export function soon(ask: () => Promise<readonly Row[]>, { now, timer }: Patience): Promise<readonly Row[]> {
  return new Promise((resolve) => {
    const callOff = timer(after(now(), LOOK_MS), () => resolve([]));
    ask().catch(() => []).then((rows) => {
      callOff();
      resolve(rows);
    }, () => {});
  });
}
