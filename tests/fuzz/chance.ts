/** Owns seeded chance for hostile input: numbers, strings and values that programs trip over. */

export interface Chance {
  /** A whole number from 0 to less than n. */
  readonly below: (n: number) => number;
  readonly one: <T>(list: readonly T[]) => T;
  readonly happens: (share: number) => boolean;
}

/** mulberry32, a public domain generator of 32 bits. */
export function chanceOf(seed: number): Chance {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (n: number) => Math.floor(next() * n);
  return { below, one: (list) => list[below(list.length)] as (typeof list)[number], happens: (share) => next() < share };
}

const strings = [
  '', ' ', '\0', '__proto__', 'constructor', 'toString', '../../../etc/passwd', '..%2f..%2f', '%00', '<script>alert(1)</script>', '=1+1', "'; drop table log; --",
  '\u202eabc', '🧘'.repeat(40), 'e\u0301'.repeat(200), 'x'.repeat(300), 'x'.repeat(9_000), '\ud800', 'garden', 'forty-twenty', 'NaN', '1e308', '-0',
];
const numbers = [0, -0, 1, -1, 0.5, 2 ** 31, 2 ** 53, 2 ** 53 + 2, -(2 ** 63), 1e308, 5e-324, 1_750_000_000_000];

/** Any value at all, deeper ones seldom. */
export function anything(chance: Chance, depth = 0): unknown {
  const kind = chance.below(depth > 5 ? 5 : 8);
  if (kind === 0) return chance.one(strings);
  if (kind === 1) return chance.one(numbers);
  if (kind === 2) return chance.happens(0.5);
  if (kind === 3) return null;
  if (kind === 4) return chance.below(1_000_000);
  if (kind === 5) return Array.from({ length: chance.below(5) }, () => anything(chance, depth + 1));
  if (kind === 6) return Object.fromEntries(Array.from({ length: chance.below(5) }, () => [chance.one(strings).slice(0, 40), anything(chance, depth + 1)]));
  return JSON.parse(`${'['.repeat(50)}${']'.repeat(50)}`) as unknown;
}
