/** Owns chance that comes from a seed and a name, so that cutting one thing out of a story leaves the rest of its luck alone. */

/** From 0 up to, not including, 1. */
export type Chance = () => number;

/** A small generator (mulberry32, public domain), started from the seed and the letters of the name. */
export function chanceOf(seed: number, name: string): Chance {
  let a = seed >>> 0;
  for (const letter of name) a = (Math.imul(a ^ letter.charCodeAt(0), 0x85ebca6b) + 0x6d2b79f5) >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = a;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

export const spread = (chance: Chance, least: number, most: number): number => least + chance() * (most - least);
export const whole = (chance: Chance, least: number, most: number): number => Math.floor(spread(chance, least, most + 1));
export const pick = <T>(chance: Chance, from: readonly [T, ...T[]]): T => from[Math.floor(chance() * from.length)] ?? from[0];

/** Median and spread of a delay with a long tail. */
export function longTailed(chance: Chance, median: number, sigma: number): number {
  const normal = Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());
  return median * Math.exp(sigma * normal);
}

/** An id in the form of UUID version 4 (RFC 9562) from a chance. */
export function uuid(chance: Chance): string {
  const hex = (n: number) => Array.from({ length: n }, () => Math.floor(chance() * 16).toString(16)).join('');
  return `${hex(8)}-${hex(4)}-4${hex(3)}-8${hex(3)}-${hex(12)}`;
}
