/**
 * Owns carrying the sums forward in time: the same session, its anchor moved to
 * a later instant and every millisecond between booked to its account. Changes
 * nothing that anybody could see.
 */
import type { Interval } from '../plan/interval.ts';
import { later, type ServerAt } from '../time/units.ts';
import { remainingMs, type Stretch, walk } from './place.ts';
import type { Accounts, Session } from './session.ts';

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

export function accountOf(interval: Interval): keyof Accounts {
  switch (interval.kind) {
    case 'work': return interval.side ?? 'together';
    case 'other-side': return 'otherSide';
    case 'set-up': return 'setUp';
    case 'rest': return 'rest';
    case 'show': return 'show';
    case 'talk': return 'talk';
  }
}

const standstillAccounts = { pause: 'paused', 'keep-moving': 'keepMoving', stop: 'stopped' } as const;
const standstillAccount = (s: Session): keyof Accounts => standstillAccounts[s.pause?.what ?? 'pause'];

export function settle(s: Session, at: ServerAt): Session {
  if (s.over || at <= s.anchor.at) return s;
  const accounts: Mutable<Accounts> = { ...s.accounts };
  let elapsed = s.sums.elapsed;
  let sides = s.sides;
  let lastPair = s.lastPair;
  let lastIndex = s.anchor.index;
  const book = ({ what, index, ms }: Stretch) => {
    lastIndex = index;
    if (what === 'paused') accounts[standstillAccount(s)] += ms;
    else if (what === 'count-in') accounts.countIn += ms;
    else {
      const interval = s.intervals[index] as Interval;
      accounts[accountOf(interval)] += ms;
      if (interval.ends === 'clock') elapsed += ms;
      if (interval.kind !== 'work') return;
      lastPair = interval.pair ?? null;
      if (interval.pair && interval.side && interval.ends === 'clock') {
        const sum = sides[interval.pair] ?? { left: 0, right: 0 };
        sides = { ...sides, [interval.pair]: { ...sum, [interval.side]: sum[interval.side] + ms } };
      }
    }
  };
  const place = walk(s, at, book);
  const settled = { ...s, accounts, sides, lastPair, sums: { ...s.sums, elapsed } };
  if (!place.over) {
    const { index, elapsedMs, countInMs } = place;
    return { ...settled, anchor: { at: later(at, s.anchor.at), index, elapsedMs, countInMs } };
  }
  // What a forgotten class leaves undone counts as skipped, like what an end cuts off.
  const from = s.pause ? s.anchor : { index: lastIndex, elapsedMs: 0 };
  const left = place.over.how === 'forgotten' ? remainingMs(s, from) : 0;
  return closed({ ...settled, sums: { ...settled.sums, skipped: settled.sums.skipped + left } }, place.over);
}

/** A session that is over: nothing of it moves any more. */
export function closed(s: Session, over: NonNullable<Session['over']>): Session {
  return { ...s, over, pause: null, wasStopped: s.wasStopped || (s.pause?.stop ?? null) !== null, anchor: { at: over.at, index: s.intervals.length, elapsedMs: 0, countInMs: 0 } };
}
