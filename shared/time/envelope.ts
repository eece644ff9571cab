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

/** Keeps what is open (gap >= 0); the gap is concave in the skew and straight between neighbours. */
const openPart = (all: readonly Corner[]): Corner[] => {
  const open: Corner[] = [];
  all.forEach((c, i) => {
    const before = all[i - 1];
    if (before !== undefined && gap(before) < 0 !== gap(c) < 0) open.push(mix(before, c, gap(before) / (gap(before) - gap(c))));
    if (gap(c) >= 0) open.push(c);
  });
  return open;
};

const byAt = (a: Point, b: Point): number => a.at - b.at;

const meanExcess = (over: readonly Point[], under: readonly Point[], c: Corner): number => {
  let sum = 0;
  for (const p of over) sum += p.ms - c.skew * p.at - c.top;
  for (const p of under) sum += c.bottom - (p.ms - c.skew * p.at);
  return sum / (over.length + under.length);
};

/**
 * The believed skew: delays above their least are taken as exponential, for which the
 * widest corridor is the most likely one (that is the linear programme's answer), and
 * the skew of a crystal as normal around 0; the prior matters only while the clouds
 * are short.
 */
const believed = (corners: readonly Corner[], over: readonly Point[], under: readonly Point[], skewUsual: number): Corner => {
  const widest = corners.reduce((a, b) => (gap(b) > gap(a) ? b : a));
  const perMs = over.length / Math.max(meanExcess(over, under, widest), 1e-3);
  const worth = (c: Corner): number => perMs * gap(c) - (c.skew / skewUsual) ** 2 / 2;
  let best = corners[0] as Corner;
  corners.forEach((c, i) => {
    const before = corners[i - 1];
    const tries = [c];
    if (before !== undefined && c.skew > before.skew) {
      const peak = (skewUsual ** 2 * perMs * (gap(c) - gap(before))) / (c.skew - before.skew);
      const share = (peak - before.skew) / (c.skew - before.skew);
      if (share > 0 && share < 1) tries.push(mix(before, c, share));
    }
    for (const t of tries) if (worth(t) > worth(best)) best = t;
  });
  return best;
};

/**
 * Fits all lines below every point of `over` and above every point of `under` whose
 * skew is at most `skewMost` either way. Null when there is none: the clouds contradict
 * each other, or one is empty.
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
  const corners = openPart([-skewMost, ...skews, skewMost].map((s) => cornerAt(s, above, below)));
  if (corners.length === 0) return null;
  const best = believed(corners, over, under, skewUsual);
  return { corners, middle: (best.top + best.bottom) / 2, skew: best.skew };
};

/** What the lines say at one instant: the believed value and the least and greatest that any line has there. */
export const readEnvelope = (fit: Envelope, at: number): { ms: number; least: number; most: number } => ({
  ms: fit.middle + fit.skew * at,
  least: Math.min(...fit.corners.map((c) => c.bottom + c.skew * at)),
  most: Math.max(...fit.corners.map((c) => c.top + c.skew * at)),
});
