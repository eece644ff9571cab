/** Owns the lateness line: early, on time or late against the time the floor must be free. For the phone only. */
import type { Session } from '../../../shared/session/session.ts';
import { between } from '../../../shared/time/units.ts';
import type { View } from '../../../shared/view/view.ts';
import { clockTime, lengthWords } from '../../../shared/view/words.ts';

export interface Lateness {
  readonly how: 'early' | 'on-time' | 'late' | 'open';
  readonly words: string;
  readonly detail: string;
}

/** Less than this nobody would call early or late. */
const ON_TIME_MS = 15_000;

export function latenessOf({ freeAt }: Pick<Session, 'freeAt'>, v: Pick<View, 'projectedAt'>, timeZone: string): Lateness {
  const ends = clockTime(v.projectedAt, timeZone);
  if (freeAt === null) return { how: 'open', words: `Ends at ${ends}`, detail: '' };
  const byMs = between(freeAt, v.projectedAt);
  if (Math.abs(byMs) < ON_TIME_MS) return { how: 'on-time', words: 'On time', detail: `ends ${ends}` };
  const by = lengthWords(Math.abs(byMs));
  return byMs > 0 ? { how: 'late', words: `${by} late`, detail: `ends ${ends}` } : { how: 'early', words: `${by} early`, detail: `ends ${ends}` };
}
