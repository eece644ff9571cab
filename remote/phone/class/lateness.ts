/** Owns the words of the lateness line: early, on time or late against the promised end. For the phone only. */
import type { Lateness } from '../../../shared/session/finish.ts';
import type { Session } from '../../../shared/session/session.ts';
import { clockTime, lengthWords } from '../../../shared/view/words.ts';

export interface LatenessWords {
  readonly how: 'early' | 'on-time' | 'late' | 'open';
  readonly words: string;
  readonly detail: string;
}

export function latenessWords({ freeAt }: Pick<Session, 'freeAt'>, late: Lateness, timeZone: string): LatenessWords {
  const ends = clockTime(late.endAt, timeZone);
  if (freeAt === null) return { how: 'open', words: `Ends at ${ends}`, detail: '' };
  const by = lengthWords(Math.abs(late.byMs));
  switch (late.standing) {
    case 'on-time': return { how: 'on-time', words: 'On time', detail: `ends ${ends}` };
    case 'late': return { how: 'late', words: `${by} late`, detail: `ends ${ends}` };
    case 'early': return { how: 'early', words: `${by} early`, detail: `ends ${ends}` };
  }
}
