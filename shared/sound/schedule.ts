/**
 * Owns which sounds lie on the audio clock: what is wanted and not yet there is
 * put there, what is no longer wanted is taken off, what has moved is moved. Pure,
 * but for the one object that starts and stops sounds, which is handed in.
 */
import { keyOf, LATE_MS, type Signal, type SignalKind } from '../view/signal-kinds.ts';

/** Signals are put on the audio clock this far ahead: a page that stalls for two seconds still sounds on time. */
export const HORIZON_MS = 3_000;
/** A sound that is off by less than this is left where it is. */
export const MOVE_MS = 3;

export interface Outlet {
  /** Starts a sound at a time of the audio clock, in milliseconds; says how to take it off again. */
  start(kind: SignalKind, atAudioMs: number): () => void;
  /** The earliest audio time at which something can still start. */
  nowMs(): number;
}

interface Placed {
  readonly signal: Signal;
  readonly atAudioMs: number;
  readonly cancel: () => void;
}

export class Schedule {
  private placed = new Map<string, Placed>();
  private readonly outlet: Outlet;

  constructor(outlet: Outlet) {
    this.outlet = outlet;
  }

  /**
   * @param wanted the signals from LATE_MS ago up to the horizon
   * @param toAudioMs where on the audio clock a signal must start, so that it is heard on time
   */
  update(wanted: readonly Signal[], toAudioMs: (signal: Signal) => number): void {
    const nowMs = this.outlet.nowMs();
    const keys = new Set(wanted.map(keyOf));
    for (const [key, p] of this.placed) {
      if (p.atAudioMs > nowMs && !keys.has(key)) {
        p.cancel();
        this.placed.delete(key);
      } else if (p.atAudioMs < nowMs - HORIZON_MS - LATE_MS && !keys.has(key)) this.placed.delete(key);
    }
    for (const signal of wanted) {
      const atAudioMs = Math.max(toAudioMs(signal), nowMs);
      const there = this.placed.get(keyOf(signal));
      // What sounds already stays; what is a hair off stays too.
      if (there && (there.atAudioMs <= nowMs || Math.abs(there.atAudioMs - atAudioMs) <= MOVE_MS)) continue;
      there?.cancel();
      this.placed.set(keyOf(signal), { signal, atAudioMs, cancel: this.outlet.start(signal.kind, atAudioMs) });
    }
  }

  /** Takes off everything that does not sound yet. */
  clear(): void {
    this.update([], () => 0);
  }
}
