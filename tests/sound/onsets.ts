/** Owns finding the signals in a recording: where something sounds after silence, and which of ours it is. */
import type { SignalKind } from '../../shared/view/signal-kinds.ts';

export interface Onset { readonly kind: SignalKind; readonly atMs: number; readonly likeness: number }
export interface Template { readonly kind: SignalKind; readonly samples: Float64Array }

/** The longest rest inside one of our sounds is 50 ms; between two of them there are 60 or more. */
const GAP_MS = 55;
const SILENT = 1e-3;
const LAG_MS = 6;
const COMPARE_MS = 250;

export function segments(x: Float64Array, rate: number): [number, number][] {
  const gap = (GAP_MS * rate) / 1_000;
  const found: [number, number][] = [];
  let last = Number.NEGATIVE_INFINITY;
  x.forEach((v, i) => {
    if (Math.abs(v) < SILENT) return;
    const open = found.at(-1);
    if (open && i - last < gap) open[1] = i;
    else found.push([i, i]);
    last = i;
  });
  return found;
}

/** The likeness of two pieces, 1 for the same at any loudness. */
function likeness(x: Float64Array, at: number, t: Float64Array, length: number): number {
  let [xt, xx, tt] = [0, 0, 0];
  for (let i = 0; i < length; i += 1) {
    const [a, b] = [x[at + i] ?? 0, t[i] ?? 0];
    xt += a * b;
    xx += a * a;
    tt += b * b;
  }
  return xt / Math.sqrt(xx * tt || 1);
}

export function onsets(x: Float64Array, rate: number, templates: readonly Template[]): Onset[] {
  return segments(x, rate).map(([from, to]) => {
    let best: Onset = { kind: 'three', atMs: (from * 1_000) / rate, likeness: -1 };
    const lag = Math.round((LAG_MS * rate) / 1_000);
    for (const t of templates) {
      if (Math.abs(t.samples.length - (to - from)) > rate * 0.06) continue;
      const length = Math.min(t.samples.length, Math.round((COMPARE_MS * rate) / 1_000));
      for (let at = from - lag; at <= from + lag; at += 1) {
        const like = likeness(x, at, t.samples, length);
        if (like > best.likeness) best = { kind: t.kind, atMs: (at * 1_000) / rate, likeness: like };
      }
    }
    return best;
  });
}

/** The same samples at another rate, by straight lines: good enough to recognise. */
export function resample(x: Float64Array, from: number, to: number): Float64Array {
  return Float64Array.from({ length: Math.floor((x.length * to) / from) }, (_, i) => {
    const at = (i * from) / to;
    const k = Math.floor(at);
    return (x[k] ?? 0) + ((x[k + 1] ?? 0) - (x[k] ?? 0)) * (at - k);
  });
}
