/** Owns the floor: the class plan to scale, board by board, walked from left to right. */
import type { IntervalKind } from '../plan/interval.ts';
import type { Session } from '../session/session.ts';

export interface Board {
  readonly id: string;
  readonly kind: IntervalKind;
  readonly section: number;
  readonly startMs: number;
  readonly lengthMs: number;
}

export interface Floor {
  readonly boards: readonly Board[];
  readonly lengthMs: number;
}

/** Changes only when the intervals do; where now is on it says `view().floorMs`. */
export function floorOf(session: Pick<Session, 'intervals'>): Floor {
  let at = 0;
  const boards = session.intervals.map((i) => {
    const board = { id: i.id, kind: i.kind, section: i.section, startMs: at, lengthMs: i.lengthMs };
    at += i.lengthMs;
    return board;
  });
  return { boards, lengthMs: at };
}
