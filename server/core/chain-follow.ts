/**
 * Owns asking for the time of the chain: when a question leaves, what its answer leads to, and that
 * a step of the database's clock is taken back for all. Leaves alone the arithmetic (chain-time.ts); the
 * computer's clocks, its timers and the database are handed in, so that a simulation runs this very code.
 */
import { BURST } from '../../shared/time/offset.ts';
import { openChainTime, type Own, type Told } from './chain-time.ts';

export interface FollowNeeds {
  readonly own: () => Own;
  /** Runs something once after so many of the computer's own milliseconds; gives the way to call it off. */
  readonly afterMs: (ms: number, run: () => void) => () => void;
  readonly time: () => Promise<Told>;
  /** Moves the time of the chain against the database's clock; false where another server has moved it since. */
  readonly moveTime: (fromMs: number, toMs: number) => Promise<boolean>;
  /** Tells all who know the time of the chain to look whether the database's clock was set, before one comes that does not know it. */
  readonly callOthers: () => Promise<void>;
  readonly warn: (sentence: string) => void;
}

export interface Followed {
  /** Another one whenever the time was set anew. */
  readonly jumps: () => number;
  readonly exact: () => number;
  /** How far from the database's time it may be; null before it is known. */
  readonly errorMs: () => number | null;
  /** Another server is about to start: what the database's clock did is to be seen before it does. */
  readonly look: () => void;
  readonly stop: () => void;
}

/** Between two questions of the first ten. */
const FIRST_GAP_MS = 5;
/** After a question that was not answered. */
const AGAIN_MS = 1_000;
/** So long others have to look, and so many times as long as telling them took. */
const OTHERS_LOOK_MS = 300;
const OTHERS_LOOK_TIMES = 4;

/** A database's clock that is set again and again is not waited out. */
const STARTS_MOST = 3;

/** @param lastAt of the newest event in the log: the time never stands before it */
export async function followChain({ own, afterMs, time: askTime, moveTime, callOthers, warn }: FollowNeeds, lastAt: number): Promise<Followed> {
  const time = openChainTime();
  let stopped = false;
  let away = false;
  let callOff = () => {};
  let asking = false;
  const waitMs = (ms: number) => new Promise<void>((resolve) => { afterMs(ms, resolve); });

  async function ask(): Promise<void> {
    const sent = own();
    time.asked(sent);
    const told = await askTime();
    const jumped = time.jumps();
    const move = time.answered(sent, own(), told);
    if (time.jumps() > jumped) warn('this server was asleep, or another has set the time of the chain: it follows at once.');
    if (!move) return;
    const mine = await moveTime(move.fromMs, move.toMs);
    const seconds = ((move.fromMs - move.toMs) / 1_000).toFixed(1);
    warn(`the database's clock was set by ${seconds} s. Classes go on by the time that they had${mine ? '' : '; another server has seen to it'}.`);
  }
  async function round(): Promise<void> {
    let gapMs = AGAIN_MS;
    asking = true;
    try {
      await ask();
      away = false;
      gapMs = Math.max(0, time.nextAt() - own().monotonicMs);
    } catch (error) {
      if (!away) warn(`the database does not tell the time (${String(error)}); the clock goes on by itself.`);
      away = true;
    }
    asking = false;
    if (!stopped) callOff = afterMs(gapMs, () => { void round(); });
  }

  /** The time, once others have had theirs to look. */
  async function afterOthers(): Promise<Told> {
    const calledMs = own().monotonicMs;
    await callOthers().catch(() => {});
    await waitMs(OTHERS_LOOK_MS + OTHERS_LOOK_TIMES * (own().monotonicMs - calledMs));
    return askTime();
  }
  let first = await afterOthers();
  // The clock was set back, just now or while nobody ran: whoever knows the time has seen it by the second look.
  if (lastAt > first.at) first = await afterOthers();
  if (lastAt > first.at) await moveTime(first.offsetMs, first.offsetMs + lastAt - first.at);
  for (let start = 0; start < STARTS_MOST; start += 1) {
    for (let n = 0; n < BURST; n += 1) {
      await ask();
      await waitMs(FIRST_GAP_MS);
    }
    // Set while this one learned it: whoever knows the time has taken that back by now, and what was learned is of another time.
    const now = await afterOthers();
    if (now.offsetMs === first.offsetMs) break;
    first = now;
  }
  void round();
  return {
    jumps: time.jumps,
    exact: () => time.exact(own()) ?? first.at,
    errorMs: () => time.errorMs(own()),
    look: () => {
      if (asking || stopped) return;
      callOff();
      void round();
    },
    stop: () => {
      stopped = true;
      callOff();
    },
  };
}
