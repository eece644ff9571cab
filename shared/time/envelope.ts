/**
 * Owns the geometry under the clock offset: two clouds of points, one that the
 * offset lies below and one that it lies above, and all straight lines that pass
 * between them. Knows nothing of clocks or messages. Source of the method: offset and
 * skew as a line under the cloud of one-way delays (Moon, Skelly, Towsley, INFOCOM
 * 1999, as a linear programme; Zhang, Liu, Xia, INFOCOM 2002, by convex hulls),
 * here under both clouds at once with one skew.
 */

export interface Point {
  readonly at: number;
  readonly ms: number;
}

/** One skew (ms per ms) and how high and how low, at `at` 0, a line of that skew may lie. */
export interface Corner {
  readonly skew: number;
  readonly top: number;
  readonly bottom: number;
}

/** All lines between the clouds: the polygon of (skew, height) given by its corners, skew ascending. */
export interface Envelope {
  readonly corners: readonly Corner[];
  /** The line that is believed: height at `at` 0 and skew. */
  readonly middle: number;
  readonly skew: number;
}

/** Points of the hull below (sign 1) or above (sign -1) a cloud sorted by `at`. */
const hull = (points: readonly Point[], sign: 1 | -1): Point[] => {
  const kept: Point[] = [];
  for (const p of points) {
    const twin = kept.at(-1);
    if (twin !== undefined && twin.at === p.at) {
      if (sign * (p.ms - twin.ms) >= 0) continue;
      kept.pop();
    }
    for (;;) {
      const a = kept.at(-2);
      const b = kept.at(-1);
      if (a === undefined || b === undefined) break;
      const turn = (b.at - a.at) * (p.ms - a.ms) - (p.at - a.at) * (b.ms - a.ms);
      if (sign * turn > 0) break;
      kept.pop();
    }
    kept.push(p);
  }
  return kept;
};

const slopes = (edge: readonly Point[]): number[] =>
  edge.slice(1).map((p, i) => {
    const before = edge[i] as Point;
    return (p.ms - before.ms) / (p.at - before.at);
  });

const cornerAt = (skew: number, over: readonly Point[], under: readonly Point[]): Corner => ({
  skew,
  top: Math.min(...over.map((p) => p.ms - skew * p.at)),
  bottom: Math.max(...under.map((p) => p.ms - skew * p.at)),
});

const gap = (c: Corner): number => c.top - c.bottom;

const mix = (a: Corner, b: Corner, share: number): Corner => ({
  skew: a.skew + (b.skew - a.skew) * share,
  top: a.top + (b.top - a.top) * share,
  bottom: a.bottom + (b.bottom - a.bottom) * share,
});

/** Keeps where the gap is at least `leastMs`; it is concave in the skew and straight between neighbours. */
const openPart = (all: readonly Corner[], leastMs: number): Corner[] => {
  const open: Corner[] = [];
  const room = (c: Corner): number => gap(c) - leastMs;
  all.forEach((c, i) => {
    const before = all[i - 1];
    if (before !== undefined && room(before) < 0 !== room(c) < 0)
      open.push(mix(before, c, room(before) / (room(before) - room(c))));
    if (room(c) >= 0) open.push(c);
  });
  return open;
};

const byAt = (a: Point, b: Point): number => a.at - b.at;

/** Delays above their least, per direction; never negative but for rounding. */
const excess = (points: readonly Point[], sign: 1 | -1, c: Corner): number[] =>
  points.map((p) => Math.max(sign * (p.ms - c.skew * p.at - (sign === 1 ? c.top : c.bottom)), 0));

const meanOf = (xs: readonly number[]): number => xs.reduce((a, b) => a + b, 0) / xs.length;

/** What one direction says about the skew: which way (score) and how surely (information). */
const pull = (points: readonly Point[], sign: 1 | -1, c: Corner): { score: number; sure: number } => {
  const over = excess(points, sign, c);
  const shift = EDGE_SHARE * ([...over].sort((a, b) => a - b)[over.length >> 1] ?? 0) + EDGE_LEAST_MS;
  const logs = over.map((x) => Math.log(x + shift));
  const middle = meanOf(logs);
  const spread = Math.max(meanOf(logs.map((l) => (l - middle) ** 2)), SPREAD_LEAST);
  const says = logs.map((l) => (1 + (l - middle) / spread) / Math.exp(l));
  const usual = meanOf(says);
  const centre = meanOf(points.map((p) => p.at));
  const weighed = points.map((p, i) => ((says[i] ?? usual) - usual) * (p.at - centre));
  const reach = points.reduce((sum, p) => sum + (p.at - centre) ** 2, 0);
  return {
    score: sign * weighed.reduce((a, b) => a + b, 0),
    sure: meanOf(says.map((x) => (x - usual) ** 2)) * reach,
  };
};

/** The unseen rest below the least delay, as a share of the median excess; keeps the logarithm finite. */
const EDGE_SHARE = 0.05;
const EDGE_LEAST_MS = 1e-3;
const SPREAD_LEAST = 0.05;
/** Delays that never vary are still not believed to be exact: a tenth of a millisecond is the finest reading of most browsers. */
const EXCESS_LEAST_MS = 0.1;
/** Fewer points than this say nothing about how delays are spread. */
const POINTS_LEAST = 8;
/**
 * Skews whose corridor is narrower than the widest by so many mean excesses a point are left out
 * (log likelihood ratio under exponential delays). Judgement, no source: 12 was tried first, and 6 was
 * chosen on the bench for a bound that is narrower by 5 % and still held every instant there. It is
 * what makes the bound a statistical one once there are `POINTS_LEAST` samples.
 */
const PLAUSIBLE = 6;

/**
 * Fits the lines below every point of `over` and above every point of `under` whose skew is at
 * most `skewMost` either way and not implausible. Null when there is none: the clouds contradict
 * each other, or one is empty. `skewUsual` is the standard deviation of the skew beforehand.
 *
 * Believed is first the widest corridor, the linear programme's answer: the most likely one when
 * delays above their least are exponential. Its skew is then bettered by one Fisher step with all
 * points, delays taken as lognormal with the spread that they show.
 */
export const fitEnvelope = (
  over: readonly Point[],
  under: readonly Point[],
  skewUsual: number,
  skewMost: number,
): Envelope | null => {
  if (over.length === 0 || under.length === 0) return null;
  const above = hull([...over].sort(byAt), 1);
  const below = hull([...under].sort(byAt), -1);
  const skews = [...slopes(above), ...slopes(below)].filter((s) => Math.abs(s) < skewMost).sort((a, b) => a - b);
  const open = openPart([-skewMost, ...skews, skewMost].map((s) => cornerAt(s, above, below)), 0);
  const first = open[0];
  if (first === undefined) return null;
  const widest = open.reduce((a, b) => (gap(b) > gap(a) ? b : a), first);
  const few = over.length < POINTS_LEAST;
  const meanMs = Math.max(meanOf([...excess(over, 1, widest), ...excess(under, -1, widest)]), EXCESS_LEAST_MS);
  const corners = openPart(open, few ? 0 : Math.max(gap(widest) - (PLAUSIBLE * meanMs) / over.length, 0));
  const from = corners[0]?.skew ?? widest.skew;
  const to = corners.at(-1)?.skew ?? widest.skew;
  const skew = few ? Math.min(Math.max(0, from), to) : bettered(widest, over, under, skewUsual, from, to);
  const best = cornerAt(skew, above, below);
  return { corners, middle: (best.top + best.bottom) / 2, skew: best.skew };
};

const bettered = (
  c: Corner,
  over: readonly Point[],
  under: readonly Point[],
  skewUsual: number,
  from: number,
  to: number,
): number => {
  const up = pull(over, 1, c);
  const down = pull(under, -1, c);
  const before = 1 / skewUsual ** 2;
  const step = (up.score + down.score - c.skew * before) / (up.sure + down.sure + before);
  return Math.min(Math.max(c.skew + step, from), to);
};

/** What the lines say at one instant: the believed value and the least and greatest that any line has there. */
export const readEnvelope = (fit: Envelope, at: number): { ms: number; least: number; most: number } => ({
  ms: fit.middle + fit.skew * at,
  least: Math.min(...fit.corners.map((c) => c.bottom + c.skew * at)),
  most: Math.max(...fit.corners.map((c) => c.top + c.skew * at)),
});
