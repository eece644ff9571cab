/**
 * Owns what a class and a week of classes ask of a body, after Foster: session load,
 * weekly load, monotony and strain. Leaves alone who answered (nobody here knows) and
 * what is shown of it.
 *
 * Foster C. Monitoring training in athletes with reference to overtraining syndrome.
 * Med Sci Sports Exerc 1998; 30(7):1164-8. Foster C et al. A new approach to monitoring
 * exercise training. J Strength Cond Res 2001; 15(1):109-15.
 */

/** Fewer answers than this are not shown, averaged or exported: with one or two, who answered what could be guessed. */
export const ANSWERS_LEAST = 3;
export const RATING_MOST = 10;

/** Answers by rating, counts only. */
export type Counts = Readonly<Record<number, number>>;

export interface Effort { readonly answers: number; readonly mean: number }

/** The mean of a class's answers; null while there are fewer than three. */
export function effortOf(counts: Counts): Effort | null {
  const answers = Object.values(counts).reduce((sum, n) => sum + n, 0);
  if (answers < ANSWERS_LEAST) return null;
  return { answers, mean: Object.entries(counts).reduce((sum, [rating, n]) => sum + Number(rating) * n, 0) / answers };
}

/** Session load in arbitrary units: rating (0 to 10) times minutes of the whole class, warm-up, rests and cool-down included. */
export const sessionLoad = (rating: number, minutes: number): number => rating * minutes;

/**
 * The standard deviation that monotony divides by. No text of Foster's that was seen says
 * which; the sample's (n - 1) is used on every page, the population's (n) gives a monotony
 * that is 1.08 times as high in a week of seven days.
 */
export type Deviation = 'sample' | 'population';

export interface WeekLoad {
  readonly total: number;
  readonly mean: number;
  readonly deviation: number;
  /** Null where it is not defined: every day was the same, so that nothing varies. */
  readonly monotony: number | null;
  readonly strain: number | null;
}

/** @param daily load of each of the seven days, days without a class as 0 */
export function weekLoad(daily: readonly number[], kind: Deviation = 'sample'): WeekLoad {
  const total = daily.reduce((sum, load) => sum + load, 0);
  const mean = total / Math.max(1, daily.length);
  const squares = daily.reduce((sum, load) => sum + (load - mean) ** 2, 0);
  const n = kind === 'sample' ? daily.length - 1 : daily.length;
  const deviation = n > 0 ? Math.sqrt(squares / n) : 0;
  // Rounding can leave a speck where all days are equal.
  const monotony = deviation > mean * 1e-12 ? mean / deviation : null;
  return { total, mean, deviation, monotony, strain: monotony === null ? null : total * monotony };
}
