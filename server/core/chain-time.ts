/**
 * Owns what time it is on one of several servers: the database's clock, followed by the estimator
 * that screens use (shared/time/offset.ts), so slowly that a screen takes it for one clock. The
 * first server that sees the database's clock step takes the step back for all. Pure: the readings
 * and the database's answers are handed in.
 */
import { addSample, asked, BURST, type Estimator, estimate, newEstimator, nextSampleAt, ofClock } from '../../shared/time/offset.ts';
import { deviceAt, serverAt } from '../../shared/time/units.ts';

/** What the database says: the time of the chain, which is its own clock and so much. */
export interface Told { readonly at: number; readonly offsetMs: number }

/** What the computer's own clocks say at one moment. */
export interface Own {
  readonly monotonicMs: number;
  /** How long it has slept since its boot, in which the monotonic clock stood still. */
  readonly sleptMs: number;
}

/** Two crystals part by 30 ppm as a rule; a device takes 200 ppm for plausible (offset.ts), of which this is half. */
export const CHAIN_SLEW = 100e-6;
/** Farther off at once is a step, and no drift. */
export const CHAIN_STEP_MS = 50;
/** A step is measured by an answer this quick, which puts it at most half as wrong; or by the quickest of so many. */
const STEP_QUICK_MS = 5;
const STEP_TRIES = 5;
/** By then all who know the time have looked at the database's clock since this one began: whoever is younger knows less than they. */
const YOUNG_MS = 35_000;
/** Whoever moves it back within this time contradicts. */
const CONTRADICTED_MS = 70_000;
/** So many answers make the first impression; nobody is served before. */
const FIRST_ANSWERS = BURST;
/** Two readings of the system's uptime differ by this much at rest. */
const UPTIME_GRAIN_MS = 1_000;

export interface ChainTime {
  /** Another one whenever the time was set anew. */
  readonly jumps: () => number;
  /** The time of the chain; null before the first answer. */
  readonly exact: (own: Own) => number | null;
  /** The truth was at most this far away when it was last asked. */
  readonly errorMs: (own: Own) => number | null;
  /** A question leaves now. */
  readonly asked: (own: Own) => void;
  /** The answer has come. Where the database's clock has stepped: how the chain's time is to be moved against it, before anything else. */
  readonly answered: (sent: Own, received: Own, told: Told) => { readonly fromMs: number; readonly toMs: number } | null;
  /** When the next question is to leave, on the monotonic clock. */
  readonly nextAt: () => number;
}

export function openChainTime(): ChainTime {
  let state: Estimator = newEstimator;
  let shown: { readonly at: number; readonly monotonicMs: number } | null = null;
  let offsetMs: number | null = null;
  let sleptMs = 0;
  let jumps = 0;
  let answers = 0;
  let firstAt = Number.NaN;
  /** How this server asked for the time of the chain to be moved; looked at again at once, whether it was. */
  let tried: number | null = null;
  /** When it last moved it. */
  let movedAt = Number.NEGATIVE_INFINITY;
  /** The time may have been set, and no answer was quick enough to tell; whether this server would follow it. */
  let unsure: { readonly follows: boolean } | null = null;
  /** A step that was seen, and not by a quick answer yet. */
  let seen: { readonly tookMs: number; readonly offMs: number; readonly tries: number } | null = null;

  const exact = (own: Own): number | null => {
    const now = deviceAt(own.monotonicMs);
    const best = estimate(state, now);
    if (!best) return null;
    if (!shown || answers < FIRST_ANSWERS) {
      // Later it never goes back by itself.
      shown = { at: best.serverAt, monotonicMs: own.monotonicMs };
      return shown.at;
    }
    const passedMs = Math.max(own.monotonicMs - shown.monotonicMs, 0);
    const byItself = shown.at + passedMs;
    const most = CHAIN_SLEW * passedMs;
    shown = { at: byItself + Math.min(Math.max(best.serverAt - byItself, -most), most), monotonicMs: own.monotonicMs };
    return shown.at;
  };

  return {
    jumps: () => jumps,
    exact,
    errorMs: (own) => {
      const best = estimate(state, deviceAt(own.monotonicMs));
      const at = exact(own);
      return best && at !== null ? best.errorMs + Math.abs(best.serverAt - at) : null;
    },
    asked: (own) => { state = asked(state, deviceAt(own.monotonicMs)); },
    answered: (sent, received, told) => {
      const at = serverAt(told.at);
      answers += 1;
      // Moved by as much as whoever moved it could measure: samples of before are of another time.
      const next = addSample(ofClock(state, String(told.offsetMs)), { t1: deviceAt(sent.monotonicMs), t2: at, t3: at, t4: deviceAt(received.monotonicMs) });
      const before = exact(received);
      const best = estimate(next, deviceAt(received.monotonicMs));
      const offMs = before === null ? 0 : (best?.serverAt ?? at) - before;
      const errorMs = best?.errorMs ?? 0;
      const another = unsure !== null || next.steps > state.steps;
      // Nearer than the answer itself may be wrong, nothing is known yet.
      const stepped = another && Math.abs(offMs) > Math.max(CHAIN_STEP_MS, errorMs);
      const nowMs = received.monotonicMs;
      if (answers === 1) firstAt = nowMs;
      const slept = received.sleptMs - sleptMs > UPTIME_GRAIN_MS;
      const movedByOther = offsetMs !== null && told.offsetMs !== offsetMs && told.offsetMs !== tried;
      if (told.offsetMs === tried) movedAt = nowMs;
      tried = null;
      offsetMs = told.offsetMs;
      sleptMs = received.sleptMs;
      // Another says otherwise, and knows it better: this one is young, or was contradicted.
      const follows = movedByOther ? nowMs - firstAt < YOUNG_MS || nowMs - movedAt < CONTRADICTED_MS : unsure?.follows ?? false;
      if (stepped && !follows && !slept) {
        const tookMs = nowMs - sent.monotonicMs;
        const quickest = seen && seen.tookMs < tookMs ? seen : { tookMs, offMs };
        seen = { ...quickest, tries: (seen?.tries ?? 0) + 1 };
        if (seen.tookMs > STEP_QUICK_MS && seen.tries < STEP_TRIES) return null;
        tried = told.offsetMs - seen.offMs;
        seen = null;
        return { fromMs: told.offsetMs, toMs: tried };
      }
      seen = null;
      state = next;
      unsure = another && !stepped && errorMs > CHAIN_STEP_MS ? { follows } : null;
      if (!stepped) return null;
      shown = null;
      jumps += 1;
      return null;
    },
    nextAt: () => (seen || tried !== null ? 0 : nextSampleAt(state)),
  };
}
