/** Owns which days and which classes are asked for: read from an address, the last twelve weeks where it says nothing. */
import { reviewQuerySchema } from '../../shared/wire/review.ts';
import type { Asked } from './many.ts';
import { dayOf } from './record.ts';

const WEEKS_SHOWN = 12;

/** The last twelve weeks where nothing else is asked for; a sentence where the days make no sense. @param today in the studio's own time */
export function rangeOf(given: unknown, today: number): Asked | string {
  const query = reviewQuerySchema.safeParse(given);
  if (!query.success) return '"from" and "to" are days like 2026-05-04; "room", "plan", "series" and "movement" are names that the page offers.';
  const to = query.data.to === undefined ? today : dayOf(query.data.to);
  const from = query.data.from === undefined ? (to ?? today) - WEEKS_SHOWN * 7 + 1 : dayOf(query.data.from);
  if (from === null || to === null) return 'There is no such day. A day looks like 2026-05-04.';
  if (from > to) return '"from" is after "to". Change one of them.';
  const { room, plan, series, movement } = query.data;
  return { from, to, room, plan, series, movement };
}
