/**
 * Owns holding the estimate of the server's clock between samples: the states of
 * shared/time/offset.ts and steady.ts, moved on by samples and by looking. Leaves
 * alone all arithmetic (there) and when samples are fetched (samples.ts).
 */
import { addSample, asked, type Estimator, estimate, joined, newEstimator, nextSampleAt, noticeClocks, ofClock } from '../time/offset.ts';
import { read, type Steady } from '../time/steady.ts';
import { between, type DeviceAt, type ServerAt, serverAt } from '../time/units.ts';
import type { SampleReply } from '../wire/messages/sample.ts';
import type { DeviceClock } from './device-clock.ts';

export interface Estimate {
  /** A sample leaves now. */
  readonly asked: () => DeviceAt;
  readonly answered: (sentAt: DeviceAt, reply: SampleReply) => void;
  /** The connection is new or the device woke: many samples at once. */
  readonly joined: () => void;
  /** The server has named its clock. */
  readonly named: (clock: string) => void;
  /** Milliseconds until the next sample should leave. */
  readonly nextMs: () => number;
  readonly now: () => ServerAt | null;
  readonly errorMs: () => number | null;
}

/** What is shown is a whole millisecond; the claimed error holds that too. */
const ROUNDED_MS = 0.5;

/** @param doubt called when the device's own clocks have parted, so that it slept or was set: ask at once */
export function openEstimate(clock: DeviceClock, doubt: () => void): Estimate {
  let state: Estimator = newEstimator;
  let steady: Steady | null = null;

  const notice = (at: DeviceAt) => {
    const before = state.doubt;
    state = noticeClocks(state, clock.wallMs(), at);
    if (state.doubt && state.doubt !== before) doubt();
  };
  const look = () => {
    const at = clock.now();
    notice(at);
    const shown = read(steady, estimate(state, at), at);
    if (shown) steady = shown.steady;
    return shown;
  };

  return {
    asked: () => {
      const at = clock.now();
      state = asked(state, at);
      return at;
    },
    answered: (t1, { receivedAt, sentAt, clock: name }) => {
      const t4 = clock.now();
      notice(t4);
      state = addSample(ofClock(state, name), { t1, t2: serverAt(receivedAt), t3: serverAt(sentAt), t4 });
    },
    joined: () => { state = joined(state); },
    named: (name) => { state = ofClock(state, name); },
    nextMs: () => Math.max(0, between(clock.now(), nextSampleAt(state))),
    now: () => {
      const shown = look();
      return shown && serverAt(Math.round(shown.serverAt));
    },
    errorMs: () => {
      const errorMs = look()?.errorMs ?? null;
      return errorMs === null ? null : errorMs + ROUNDED_MS;
    },
  };
}
