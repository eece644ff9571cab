/**
 * Owns holding a week of classes against the activity guidelines, for somebody who comes
 * to all of them. Leaves alone what else that person does in the week.
 *
 * WHO guidelines on physical activity and sedentary behaviour, 2020, and Physical Activity
 * Guidelines for Americans, 2nd edition, 2018: adults 150 to 300 minutes a week of moderate
 * or 75 to 150 of vigorous activity or a mix, muscle work on 2 days or more; from 65 on,
 * balance and strength together on 3 days or more (WHO; the US gives no number of days).
 */

/** From here on an activity counts as moderate, and as vigorous, METs (both guidelines; from memory). */
export const MODERATE_MET = 3;
export const VIGOROUS_MET = 6;
export const WEEK_MINUTES = { least: 150, most: 300 } as const;
export const MUSCLE_DAYS = 2;
export const BALANCE_DAYS = 3;
/** One vigorous minute counts as two moderate ones: 150 to 75 in both guidelines. */
export const VIGOROUS_COUNTS = 2;

export type Level = 'light' | 'moderate' | 'vigorous';
export const levelOf = (met: number): Level => (met >= VIGOROUS_MET ? 'vigorous' : met >= MODERATE_MET ? 'moderate' : 'light');

export interface Week {
  readonly moderateMin: number;
  readonly vigorousMin: number;
  /** Days of the week with a class that works muscles, and that balances as well. */
  readonly muscleDays: number;
  readonly balanceDays: number;
}

export interface Held {
  /** Minutes that count, vigorous ones twice. */
  readonly minutes: number;
  /** Share of the least that is asked for, 1 or more where it is reached. */
  readonly share: number;
  readonly leftMin: number;
  readonly muscle: boolean;
  readonly balance: boolean;
}

export function againstGuidelines({ moderateMin, vigorousMin, muscleDays, balanceDays }: Week): Held {
  const minutes = moderateMin + VIGOROUS_COUNTS * vigorousMin;
  return {
    minutes, share: minutes / WEEK_MINUTES.least, leftMin: Math.max(0, WEEK_MINUTES.least - minutes),
    muscle: muscleDays >= MUSCLE_DAYS, balance: balanceDays >= BALANCE_DAYS,
  };
}
