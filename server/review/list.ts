/** Owns records as they are exported: page by page, oldest first. Runs in the review's own thread. */
import { ANSWERS_LEAST } from '../../shared/effort/load.ts';
import type { ClassRecord } from '../../shared/wire/review.ts';
import type { Records } from './records.ts';

type Kept = Omit<ClassRecord, 'effort' | 'late' | 'muscle' | 'balance'> & {
  number: number; stopped: number; late: number; muscle: number; balance: number; answers: number; ratingSum: number;
};
export interface RecordPage { readonly records: readonly ClassRecord[]; readonly next: number | null }

export const recordFrom = ({ number: _number, stopped: _stopped, answers, ratingSum, ...kept }: Kept): ClassRecord => ({
  ...kept, late: kept.late === 1, muscle: kept.muscle === 1, balance: kept.balance === 1,
  effort: answers < ANSWERS_LEAST ? null : { answers, mean: ratingSum / answers },
});

export function listOf({ db }: Records, from: number, to: number, after: number, limit: number): RecordPage {
  const rows = db.prepare('SELECT * FROM classes WHERE stopped = 0 AND day BETWEEN ? AND ? AND number > ? ORDER BY number LIMIT ?').all(from, to, after, limit) as Kept[];
  return { records: rows.map(recordFrom), next: rows.length < limit ? null : (rows.at(-1)?.number ?? null) };
}

export function oneOf({ db }: Records, id: string): ClassRecord | null {
  const row = db.prepare('SELECT * FROM classes WHERE id = ? AND stopped = 0').get(id) as Kept | undefined;
  return row ? recordFrom(row) : null;
}
