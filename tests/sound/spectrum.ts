/** Owns a plain Fourier transform for tests, so that the sounds are judged by other code than made them. */

/** Power between two frequencies, in the units of the sum of squares. */
export function powerIn(x: Float64Array, rate: number, fromHz: number, toHz: number): number {
  const size = 2 ** Math.ceil(Math.log2(Math.max(2, x.length)));
  const [re, im] = [new Float64Array(size), new Float64Array(size)];
  re.set(x);
  transform(re, im);
  let sum = 0;
  for (let k = 0; k <= size / 2; k += 1) {
    const hz = (k * rate) / size;
    if (hz >= fromHz && hz <= toHz) sum += ((re[k] ?? 0) ** 2 + (im[k] ?? 0) ** 2) * (k === 0 || k === size / 2 ? 1 : 2);
  }
  return sum / size;
}

/** Cooley and Tukey 1965, in place, for a power of two. */
export function transform(re: Float64Array, im: Float64Array): void {
  const n = re.length;
  for (let i = 1, j = 0; i < n; i += 1) {
    let bit = n >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) {
      [re[i], re[j]] = [re[j] ?? 0, re[i] ?? 0];
      [im[i], im[j]] = [im[j] ?? 0, im[i] ?? 0];
    }
  }
  for (let len = 2; len <= n; len *= 2) {
    const angle = (-2 * Math.PI) / len;
    for (let i = 0; i < n; i += len) {
      for (let k = 0; k < len / 2; k += 1) {
        const [c, s] = [Math.cos(angle * k), Math.sin(angle * k)];
        const [a, b] = [i + k, i + k + len / 2];
        const tr = (re[b] ?? 0) * c - (im[b] ?? 0) * s;
        const ti = (re[b] ?? 0) * s + (im[b] ?? 0) * c;
        [re[b], im[b]] = [(re[a] ?? 0) - tr, (im[a] ?? 0) - ti];
        [re[a], im[a]] = [(re[a] ?? 0) + tr, (im[a] ?? 0) + ti];
      }
    }
  }
}
