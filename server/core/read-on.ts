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

/** Asks until it is answered: meanwhile the room decides nothing, and what waits grows stale. Rejects where a log is there and is not understood. */
export async function surely(ask: () => Promise<readonly Row[]>, { now, timer, warn }: Patience): Promise<readonly Row[]> {
  for (;;) {
    try {
      return await ask();
    } catch (error) {
      if (error instanceof NotUnderstood) throw error;
      warn(`the log cannot be read (${String(error)}); trying again`);
      await new Promise<void>((resolve) => { timer(after(now(), READ_AGAIN_MS), resolve); });
    }
  }
}

/** What of a room's newest log is new to one who knows so many events of a class. */
export function newIn(rows: readonly Row[], known: { readonly id: string | null; readonly events: number }): { readonly session: string; readonly from: number } | null {
  const first = rows[0]?.event;
  if (first?.type !== 'started') return null;
  const from = first.session === known.id ? known.events : 0;
  return rows.length > from ? { session: first.session, from } : null;
}
