/**
 * Owns how often something happens in a time, and how sure that is: a rate with its exact
 * Poisson interval. One bad Tuesday has a wide one.
 *
 * Garwood F. Fiducial limits for the Poisson distribution. Biometrika 1936; 28:437-42.
 * Its limits are the means at which so many events, or more, and so many, or fewer, each
 * have the chance (1 - level) / 2; that is the chi-square form of Ulm, Am J Epidemiol 1990; 131:373-5.
 */

export interface Rate {
  readonly rate: number;
  readonly low: number;
  readonly high: number;
}

/** The level of every interval that is shown. */
export const LEVEL = 0.95;

/** @returns null where no time was spent: nothing can be said then */
export function rateOf(events: number, exposure: number, level: number = LEVEL): Rate | null {
  if (exposure <= 0) return null;
  const { low, high } = garwood(events, level);
  return { rate: events / exposure, low: low / exposure, high: high / exposure };
}

/** Limits of the mean of a Poisson count that was seen once. */
export function garwood(events: number, level: number = LEVEL): { readonly low: number; readonly high: number } {
  const tail = (1 - level) / 2;
  return {
    low: events === 0 ? 0 : solve((mean) => gammaP(events, mean), tail),
    high: solve((mean) => gammaP(events + 1, mean), 1 - tail),
  };
}

/** Where a rising function reaches a value: doubled until it is passed, then halved to the last bit. */
function solve(f: (x: number) => number, value: number): number {
  let high = 1;
  while (f(high) < value) high *= 2;
  let low = 0;
  for (let k = 0; k < 200 && high - low > Number.EPSILON * high; k += 1) {
    const middle = (low + high) / 2;
    if (f(middle) < value) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

const TERMS_MOST = 10_000;

/**
 * The regularised lower incomplete gamma function P(a, x) of a whole a: the chance of a
 * or more events where x are expected. Its series below a + 1, its continued fraction
 * above (Abramowitz and Stegun 6.5.29 and 6.5.31).
 */
export function gammaP(a: number, x: number): number {
  if (x <= 0) return 0;
  const scale = Math.exp(a * Math.log(x) - x - logFactorial(a - 1));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < TERMS_MOST && term > sum * Number.EPSILON; n += 1) {
      term *= x / (a + n);
      sum += term;
    }
    return scale * sum;
  }
  let b = x + 1 - a;
  let c = 1 / Number.MIN_VALUE ** 0.5;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < TERMS_MOST; n += 1) {
    const an = -n * (n - a);
    b += 2;
    d = 1 / (an * d + b);
    c = b + an / c;
    h *= d * c;
    if (Math.abs(d * c - 1) <= Number.EPSILON) break;
  }
  return 1 - scale * h;
}

function logFactorial(n: number): number {
  let sum = 0;
  for (let k = 2; k <= n; k += 1) sum += Math.log(k);
  return sum;
}
