/**
 * Owns the clock of a server that shares its log with others: asks the database for the time,
 * and takes a step of the database's clock back for all. Leaves alone the arithmetic (core/chain-time.ts).
 */
import { randomUUID } from 'node:crypto';
import { uptime } from 'node:os';
import { BURST } from '../../shared/time/offset.ts';
import { openChainTime, type Own } from '../core/chain-time.ts';
import { type Clock, clockBy, monotonicMs } from '../real-clock.ts';
import type { ChainStore } from '../store/chain-store.ts';

export interface ChainClock extends Clock {
  /** How far from the database's time it may be; null before it is known. */
  readonly errorMs: () => number | null;
  readonly stop: () => void;
}

/** Between two questions of the first ten. */
const FIRST_GAP_MS = 5;
/** After a question that was not answered. */
const AGAIN_MS = 1_000;
/** A timer looks again this often: the time may have been set forward meanwhile. */
const WAKE_MS = 10_000;

/** The system's uptime counts sleep, its monotonic clock does not (Linux, proc(5) and clock_gettime(2)). */
const own = (): Own => {
  const ms = monotonicMs();
  return { monotonicMs: ms, sleptMs: uptime() * 1_000 - ms };
};

/** @param lastAt of the newest event in the log: the time never stands before it */
export async function openChainClock(chain: Pick<ChainStore, 'time' | 'moveTime'>, lastAt: number, warn: (sentence: string) => void): Promise<ChainClock> {
  const time = openChainTime();
  const id = randomUUID().slice(0, 8);
  let stopped = false;
  let away = false;
  let next: NodeJS.Timeout | undefined;

  async function ask(): Promise<void> {
    const sent = own();
    time.asked(sent);
    const told = await chain.time();
    const jumped = time.jumps();
    const move = time.answered(sent, own(), told);
    if (time.jumps() > jumped) warn('this server was asleep, or another has set the time of the chain: it follows at once.');
    if (!move) return;
    const mine = await chain.moveTime(move.fromMs, move.toMs);
    const seconds = ((move.fromMs - move.toMs) / 1_000).toFixed(1);
    warn(`the database's clock was set by ${seconds} s. Classes go on by the time that they had${mine ? '' : '; another server has seen to it'}.`);
  }
  async function round(): Promise<void> {
    let gapMs = AGAIN_MS;
    try {
      await ask();
      away = false;
      gapMs = Math.max(0, time.nextAt() - monotonicMs());
    } catch (error) {
      if (!away) warn(`the database does not tell the time (${String(error)}); the clock goes on by itself.`);
      away = true;
    }
    if (!stopped) next = setTimeout(() => { void round(); }, gapMs);
  }

  const first = await chain.time();
  if (lastAt > first.at) await chain.moveTime(first.offsetMs, first.offsetMs + lastAt - first.at);
  for (let n = 0; n < BURST; n += 1) {
    await ask();
    await new Promise((resolve) => { setTimeout(resolve, FIRST_GAP_MS); });
  }
  void round();
  const exact = () => time.exact(own()) ?? first.at;
  return {
    ...clockBy(() => `chain ${id} ${time.jumps()}`, exact, WAKE_MS),
    errorMs: () => time.errorMs(own()),
    stop: () => {
      stopped = true;
      clearTimeout(next);
    },
  };
}
