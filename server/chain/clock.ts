/** Owns the clock of a server that shares its log with others: this computer's clocks and timers, following the database's (core/chain-follow.ts). */
import { randomUUID } from 'node:crypto';
import { uptime } from 'node:os';
import { followChain } from '../core/chain-follow.ts';
import type { Own } from '../core/chain-time.ts';
import { type Clock, clockBy, monotonicMs } from '../real-clock.ts';
import type { ChainStore } from '../store/chain-store.ts';
import type { Talk } from './talk.ts';

export interface ChainClock extends Clock {
  /** How far from the database's time it may be; null before it is known. */
  readonly errorMs: () => number | null;
  readonly stop: () => void;
}

/** A timer looks again this often: the time may have been set forward meanwhile. */
export const WAKE_MS = 10_000;

/** The system's uptime counts sleep, its monotonic clock does not (Linux, proc(5) and clock_gettime(2)). */
const own = (): Own => {
  const ms = monotonicMs();
  return { monotonicMs: ms, sleptMs: uptime() * 1_000 - ms };
};
const afterMs = (ms: number, run: () => void): (() => void) => {
  const handle = setTimeout(run, ms);
  return () => { clearTimeout(handle); };
};

/** @param lastAt of the newest event in the log: the time never stands before it */
export async function openChainClock(chain: Pick<ChainStore, 'time' | 'moveTime'>, talk: Talk, lastAt: number, warn: (sentence: string) => void): Promise<ChainClock> {
  const id = randomUUID().slice(0, 8);
  const callOthers = () => talk.sayFirst({ say: 'clock' });
  const { jumps, exact, errorMs, look, stop } = await followChain({ own, afterMs, time: chain.time, moveTime: chain.moveTime, callOthers, warn }, lastAt);
  talk.listen((message) => { if (message?.say === 'clock') look(); });
  return { ...clockBy(() => `chain ${id} ${jumps()}`, exact, WAKE_MS), errorMs, stop };
}
