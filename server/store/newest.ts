/** Owns the class with which a room begins when the server starts. */
import { replay } from '../../shared/session/evolve.ts';
import { NotUnderstood, type Row } from '../core/store.ts';
import type { LogStore } from './log-store.ts';

/**
 * The newest class of a room. One that cannot be understood is set aside: it stays in the
 * file as it is, the room starts without it, and the other rooms do not suffer.
 */
export async function newestOf(store: LogStore, room: string, warn: (sentence: string) => void): Promise<readonly Row[] | null> {
  try {
    const rows = await store.latest(room);
    try {
      replay(rows.map((row) => row.event));
    } catch (error) {
      throw new NotUnderstood(`its events do not follow on each other (${String(error)})`);
    }
    return rows;
  } catch (error) {
    if (!(error instanceof NotUnderstood)) throw error;
    warn(`The last class of room "${room}" cannot be read: ${error.message}. It was set aside and left as it is in the log; the room starts without it. Keep a copy of the data folder, and start the class again from its plan.`);
    return null;
  }
}
