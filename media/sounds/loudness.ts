/**
 * Owns measuring loudness and true peak, by ITU-R BS.1770 at any sample rate. The
 * filter constants are those from which the coefficients of its Annex 1 at 48 kHz
 * follow (a test compares them). Leaves alone what is measured.
 */

interface Biquad { readonly b: readonly [number, number, number]; readonly a: readonly [number, number] }

/** The shelf for the head and the high-pass that weights like the ear, for a sample rate. */
export function kFilters(rate: number): readonly [Biquad, Biquad] {
  const shelfK = Math.tan((Math.PI * 1_681.974450955533) / rate);
  const shelfQ = 0.7071752369554196;
  const vh = 10 ** (3.999843853973347 / 20);
  const vb = vh ** 0.4996667741545416;
  const s0 = 1 + shelfK / shelfQ + shelfK * shelfK;
  const passK = Math.tan((Math.PI * 38.13547087602444) / rate);
  const passQ = 0.5003270373238773;
  const p0 = 1 + passK / passQ + passK * passK;
  return [
    {
      b: [(vh + (vb * shelfK) / shelfQ + shelfK * shelfK) / s0, (2 * (shelfK * shelfK - vh)) / s0, (vh - (vb * shelfK) / shelfQ + shelfK * shelfK) / s0],
      a: [(2 * (shelfK * shelfK - 1)) / s0, (1 - shelfK / shelfQ + shelfK * shelfK) / s0],
    },
    { b: [1, -2, 1], a: [(2 * (passK * passK - 1)) / p0, (1 - passK / passQ + passK * passK) / p0] },
  ];
}

function filter(x: Float64Array, { b, a }: Biquad): Float64Array {
  const y = new Float64Array(x.length);
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  for (let i = 0; i < x.length; i += 1) {
    const now = x[i] ?? 0;
    const out = b[0] * now + b[1] * x1 + b[2] * x2 - a[0] * y1 - a[1] * y2;
    [x2, x1, y2, y1] = [x1, now, y1, out];
    y[i] = out;
  }
  return y;
}

const toLufs = (power: number): number => -0.691 + 10 * Math.log10(Math.max(power, 1e-15));

/** Mean squares of 400 ms blocks, summed over the channels (left, right or one), every so many milliseconds. */
function blocks(channels: readonly Float64Array[], rate: number, stepMs: number): number[] {
  const [shelf, pass] = kFilters(rate);
  const weighted = channels.map((c) => filter(filter(c, shelf), pass));
  const [size, step] = [Math.round(rate * 0.4), Math.round((rate * stepMs) / 1_000)];
  const powers: number[] = [];
  for (let from = 0; from + size <= (weighted[0]?.length ?? 0); from += step) {
    let sum = 0;
    for (const w of weighted) for (let i = from; i < from + size; i += 1) sum += (w[i] ?? 0) ** 2;
    powers.push(sum / size);
  }
  return powers;
}

const mean = (powers: readonly number[]): number => powers.reduce((a, b) => a + b, 0) / powers.length;

/** Integrated loudness in LUFS: 400 ms blocks, 75 % overlap, gates at -70 LUFS and -10 LU. */
export function integrated(channels: readonly Float64Array[], rate: number): number {
  const loud = blocks(channels, rate, 100).filter((p) => toLufs(p) > -70);
  if (loud.length === 0) return Number.NEGATIVE_INFINITY;
  const gate = toLufs(mean(loud)) - 10;
  return toLufs(mean(loud.filter((p) => toLufs(p) > gate)));
}

const SILENCE_S = 0.5;
export const padded = (x: Float64Array, rate: number): Float64Array => {
  const out = new Float64Array(x.length + 2 * Math.round(rate * SILENCE_S));
  out.set(x, Math.round(rate * SILENCE_S));
  return out;
};

/** The loudest 400 ms of a short sound in silence, LUFS (EBU Tech 3341 momentary, maximum). */
export const loudest = (x: Float64Array, rate: number): number => toLufs(Math.max(...blocks([padded(x, rate)], rate, 10)));

const OVERSAMPLE = 4;
const HALF_TAPS = 24;

/** True peak in dBTP: the largest value between the samples, four times oversampled by a windowed sinc. */
export function truePeak(x: Float64Array): number {
  let peak = 0;
  for (let phase = 0; phase < OVERSAMPLE; phase += 1) {
    const taps = Array.from({ length: 2 * HALF_TAPS }, (_, k) => {
      const t = k - HALF_TAPS + 1 - phase / OVERSAMPLE;
      const sinc = t === 0 ? 1 : Math.sin(Math.PI * t) / (Math.PI * t);
      return sinc * (0.5 + 0.5 * Math.cos((Math.PI * t) / (HALF_TAPS + 1)));
    });
    for (let i = -HALF_TAPS; i < x.length + HALF_TAPS; i += 1) {
      let sum = 0;
      for (let k = 0; k < taps.length; k += 1) sum += (taps[k] ?? 0) * (x[i + k - HALF_TAPS + 1] ?? 0);
      peak = Math.max(peak, Math.abs(sum));
    }
  }
  return 20 * Math.log10(Math.max(peak, 1e-9));
}
