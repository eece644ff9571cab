/** Owns how the coach says times, places and lists. Plain words, no units that nobody says. */
import type { Movement } from '../movement/movement.ts';
import type { Section } from '../plan/plan.ts';

const kindWords: Readonly<Record<Section['kind'], string>> = {
  welcome: 'Welcome', 'warm-up': 'Warm-up', main: 'Main', 'cool-down': 'Cool-down', 'clear-up': 'Clear up',
};
export const sectionWords = (s: Section): string => s.name ?? kindWords[s.kind];

/** "40 s", "1 min 30 s", "12 min". To the second; tenths only below ten seconds. */
export function long(ms: number): string {
  const seconds = ms < 10_000 ? Math.round(ms / 100) / 10 : Math.round(ms / 1_000);
  if (seconds < 90) return `${seconds} s`;
  const left = seconds % 60;
  return left === 0 ? `${seconds / 60} min` : `${Math.floor(seconds / 60)} min ${left} s`;
}
/** The same of seconds. */
export const longS = (s: number): string => long(s * 1_000);

/** "a", "a and b", "a, b and c". */
export const and = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

/** The first so many, and how many more. */
export const some = (words: readonly string[], most = 3): string =>
  words.length <= most ? and(words) : `${words.slice(0, most).join(', ')} and ${words.length - most} more`;

export const small = (m: Movement): string => m.name.charAt(0).toLowerCase() + m.name.slice(1);
export const many = (n: number, one: string, more = `${one}s`): string => `${n} ${n === 1 ? one : more}`;
export const unique = <T>(list: readonly T[]): T[] => [...new Set(list)];
export const total = <T>(list: readonly T[], of: (t: T) => number): number => list.reduce((sum, t) => sum + of(t), 0);
