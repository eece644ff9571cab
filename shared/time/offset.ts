/**
 * Owns the estimate of the server's clock on a device: what samples say, how far it may
 * be off, when to ask again, and when the past is no longer to be believed. Leaves alone
 * how samples are fetched (shared/link) and how the estimate is shown (steady.ts).
 *
 * A sample is the four-timestamp exchange of RFC 5905 section 8. Its way there says that
 * the offset (server less device) is at most t2 - t1, its way back that it is at least
 * t3 - t4. All samples of the window together bound it from both sides (envelope.ts).
 */
import { type Envelope, fitEnvelope, readEnvelope } from './envelope.ts';
import { type DeviceAt, type ServerAt, serverAt } from './units.ts';

/** Sent, received there, sent back, received here. */
export interface Sample {
  readonly t1: DeviceAt;
  readonly t2: ServerAt;
  readonly t3: ServerAt;
  readonly t4: DeviceAt;
}

export interface Estimate {
  readonly serverAt: ServerAt;
  /** The truth is at most this far away. */
  readonly errorMs: number;
  /** The window is so young that the first impression may still be put right at once. */
  readonly settling: boolean;
}

/** One sample as two bounds on the offset, relative to the window's origin. */
interface Bounds {
  readonly t1: number;
  readonly most: number;
  readonly t4: number;
  readonly least: number;
}

export interface Estimator {
  readonly originAt: number;
  readonly originMs: number;
  readonly window: readonly Bounds[];
  readonly fit: Envelope | null;
  /** Probes of the running burst that are still to be sent, and those sent. */
  readonly burstLeft: number;
  readonly askedAt: number | null;
  /** Since when, and by how much, the two clocks of the device have disagreed; until a sample settles it. */
  readonly doubt: { readonly at: number; readonly ms: number } | null;
  readonly clocks: { readonly wall: number; readonly mono: number } | null;
  /** The name of the server's clock that the window is of. */
  readonly of: string | null;
  /** How often a window was thrown away because a sample contradicted it. */
  readonly steps: number;
}

/** Probes on joining and on waking. */
export const BURST = 10;
/** The first three go together: the quickest of them makes a better first impression than any one. */
const TOGETHER = 3;
const TOGETHER_GAP_MS = 2;
const BURST_GAP_MS = 25;
/** After the burst the gap to the next probe is this share of the window's age ... */
const GAP_OF_AGE = 1 / 36;
/** ... but never less and never more than this. */
const GAP_LEAST_MS = 500;
const GAP_MOST_MS = 30_000;
/** A window without an answer is asked for this often. */
const UNANSWERED_GAP_MS = 500;
/** Samples older than this say little that newer ones do not. */
const WINDOW_MS = 30 * 60_000;
const WINDOW_SAMPLES = 400;
/** A window this young is still settling. */
const SETTLING_MS = 1_000;

/** Crystals: usual and greatest difference of rate between two (100 ppm each). */
const SKEW_USUAL = 30e-6;
const SKEW_MOST = 200e-6;
/** How much the rate itself wanders within a window; old bounds are widened by it. From memory: warming moves a crystal by tenths of a ppm. */
const WANDER = 0.2e-6;
/** Least step between two readings of a clock: browsers round to 1 ms or to 0.1 ms and less. */
const COARSE_MS = 1;
const FINE_MS = 0.1;
/** The two clocks of a device part by this much only in sleep or by a step; 500 ppm is the most at which a wall clock is slewed (RFC 5905). */
const CLOCKS_APART_MS = 10;
const CLOCKS_SLEW = 500e-6;

export const newEstimator: Estimator = {
  originAt: 0,
  originMs: 0,
  window: [],
  fit: null,
  burstLeft: BURST,
  askedAt: null,
  doubt: null,
  clocks: null,
  of: null,
  steps: 0,
};

/** Round trip without the server's own time, and offset as one exchange alone would have it (RFC 5905 section 8). */
export const delayMs = (s: Sample): number => s.t4 - s.t1 - (s.t3 - s.t2);
export const offsetMs = (s: Sample): number => (s.t2 - s.t1 + (s.t3 - s.t4)) / 2;

/**
 * The error bound of one exchange alone (RFC 5905 sections 10 and 11: half the delay plus the
 * dispersion; written out as in DVB-CSS, ETSI TS 103 286-2): precisions in ms, rates in ppm.
 */
export const dispersionMs = (
  s: Sample,
  of: { serverPrecisionMs: number; devicePrecisionMs: number; serverPpm: number; devicePpm: number },
  now: DeviceAt,
): number =>
  of.serverPrecisionMs +
  of.devicePrecisionMs +
  (of.serverPpm * (s.t3 - s.t2) + of.devicePpm * (s.t4 - s.t1) + (of.serverPpm + of.devicePpm) * (now - s.t4)) / 1e6 +
  Math.max(delayMs(s), 0) / 2;

const grain = (a: number, b: number): number => (Number.isInteger(a) && Number.isInteger(b) ? COARSE_MS : FINE_MS);

/** A delay below the precision (negative when clocks are skewed) is clamped to it, as RFC 5905 section 8 has it. */
const boundsOf = (s: Sample, originAt: number, originMs: number): Bounds => {
  const precisionMs = grain(s.t1, s.t4) + grain(s.t2, s.t3);
  const slackMs = Math.max(precisionMs - delayMs(s), 0) / 2 + precisionMs;
  return {
    t1: s.t1 - originAt,
    most: s.t2 - s.t1 - originMs + slackMs,
    t4: s.t4 - originAt,
    least: s.t3 - s.t4 - originMs - slackMs,
  };
};

const fitWindow = (window: readonly Bounds[]): Envelope | null => {
  const newest = window.reduce((at, b) => Math.max(at, b.t4), Number.NEGATIVE_INFINITY);
  return fitEnvelope(
    window.map((b) => ({ at: b.t1, ms: b.most + WANDER * (newest - b.t1) })),
    window.map((b) => ({ at: b.t4, ms: b.least - WANDER * (newest - b.t4) })),
    SKEW_USUAL,
    SKEW_MOST,
  );
};

const newestAt = (state: Estimator): number => state.originAt + (state.window.at(-1)?.t4 ?? 0);

/** Starts from this sample alone. */
const afresh = (state: Estimator, s: Sample): Estimator => {
  const window = [boundsOf(s, s.t1, s.t2 - s.t1)];
  return { ...state, originAt: s.t1, originMs: s.t2 - s.t1, window, fit: fitWindow(window), doubt: null };
};

/**
 * Takes one sample in. A sample that no line through the window can meet means that a clock
 * was stepped or stood still: the window is thrown away and a burst asked for; so it is in doubt,
 * where a sample is too slow to tell, and the burst that runs then makes it good. A sample under
 * way when the device's clocks parted says nothing and is left out, as is one whose stamps run
 * backwards on one clock.
 */
export const addSample = (state: Estimator, s: Sample): Estimator => {
  if (![s.t1, s.t2, s.t3, s.t4].every(Number.isFinite) || s.t4 < s.t1 || s.t3 < s.t2) return state;
  if (state.doubt !== null && s.t1 < state.doubt.at) return state;
  if (state.fit === null) return afresh(state, s);
  const next = boundsOf(s, state.originAt, state.originMs);
  const window = [...state.window, next].filter((b) => next.t4 - b.t4 <= WINDOW_MS).slice(-WINDOW_SAMPLES);
  const fit = fitWindow(window);
  if (fit === null) return { ...afresh(state, s), burstLeft: BURST - 1, steps: state.steps + 1 };
  if (state.doubt === null) return { ...state, window, fit };
  return settles(state, s) ? { ...state, window, fit, doubt: null, burstLeft: 0 } : afresh(state, s);
};

/**
 * Whether a sample that agrees with the window shows that the device did not sleep: had the
 * offset moved by the whole doubt, a sample this quick would contradict a window this narrow.
 */
const settles = ({ fit, doubt, originAt }: Estimator, s: Sample): boolean => {
  if (fit === null || doubt === null) return false;
  const { least, most } = readEnvelope(fit, s.t4 - originAt);
  return doubt.ms - 2 * CLOCKS_APART_MS > delayMs(s) + most - least;
};

/**
 * The server's time now, and how far it may be off.
 *
 * Middle: halfway between the least forward and the least backward delay of the window, along
 * one skew. Bound: the farther of the two extreme values at `now` among all plausible lines that no
 * sample contradicts. For one sample this is RFC 5905's root distance, half the delay plus
 * dispersion growing with age (sections 10 and 11; PHI is here the greatest skew that the
 * samples leave open, and `WANDER` for the rate's own unrest); precisions are added as in DVB-CSS.
 * It holds whatever the asymmetry of the way, as long as the skew is among those that envelope.ts
 * finds plausible. Null before the first sample.
 */
export const estimate = (state: Estimator, now: DeviceAt): Estimate | null => {
  if (state.fit === null) return null;
  const at = now - state.originAt;
  const { ms, least, most } = readEnvelope(state.fit, at);
  const wanderMs = WANDER * Math.max(now - newestAt(state), 0);
  return {
    serverAt: serverAt(now + state.originMs + ms),
    errorMs: Math.max(most - ms, ms - least) + wanderMs + (state.doubt?.ms ?? 0),
    settling: at < SETTLING_MS,
  };
};

/** The connection is new: asks for a burst. What is known stays known. */
export const joined = (state: Estimator): Estimator => ({ ...state, burstLeft: BURST, askedAt: null });

/**
 * The server has named the clock it tells the time of; a server that lost power may live in
 * another time than before. Samples of two clocks are never mixed: a slow one of the new might agree
 * with the old by chance. With another name nothing known counts any more, and a burst is asked for.
 */
export const ofClock = (state: Estimator, name: string): Estimator => {
  if (state.of === name) return state;
  if (state.of === null) return { ...state, of: name };
  return { ...newEstimator, clocks: state.clocks, steps: state.steps + 1, of: name };
};

/** A probe leaves now. */
export const asked = (state: Estimator, now: DeviceAt): Estimator => ({
  ...state,
  askedAt: now,
  burstLeft: Math.max(state.burstLeft - 1, 0),
});

/** When the next probe is to leave; a time gone by means now. */
export const nextSampleAt = (state: Estimator): DeviceAt => {
  if (state.askedAt === null) return Number.NEGATIVE_INFINITY as DeviceAt;
  const gapMs = (): number => {
    if (state.burstLeft > 0) return state.burstLeft > BURST - TOGETHER ? TOGETHER_GAP_MS : BURST_GAP_MS;
    if (state.fit === null || state.doubt !== null) return UNANSWERED_GAP_MS;
    return Math.min(Math.max(((state.askedAt ?? 0) - state.originAt) * GAP_OF_AGE, GAP_LEAST_MS), GAP_MOST_MS);
  };
  return (state.askedAt + gapMs()) as DeviceAt;
};

export const needsSample = (state: Estimator, now: DeviceAt): boolean => now >= nextSampleAt(state);

/**
 * Compares the device's wall clock with its monotonic one, each frame and before each
 * `addSample`. When they part, the device slept (the monotonic clock may stand still in sleep)
 * or its wall clock was set; which of them, only a sample can tell, so one is asked for at once and
 * the bound is widened by the difference until then.
 */
export const noticeClocks = (state: Estimator, wallNow: number, monoNow: DeviceAt): Estimator => {
  const clocks = { wall: wallNow, mono: monoNow };
  if (state.clocks === null) return { ...state, clocks };
  const passedMs = monoNow - state.clocks.mono;
  const apartMs = Math.abs(wallNow - state.clocks.wall - passedMs);
  if (apartMs <= CLOCKS_APART_MS + CLOCKS_SLEW * Math.abs(passedMs)) return { ...state, clocks };
  const doubt = { at: monoNow, ms: apartMs * (1 + CLOCKS_SLEW) + CLOCKS_APART_MS + (state.doubt?.ms ?? 0) };
  return { ...state, clocks, doubt, burstLeft: BURST, askedAt: null };
};
