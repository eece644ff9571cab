/**
 * Owns what a class costs in energy, as a range over body masses and never for a person,
 * and how hard its minutes count as. Leaves alone which movements were done how long.
 *
 * kcal per minute = MET x 3.5 x kg / 200 (American College of Sports Medicine).
 * METs: 2024 Adult Compendium of Physical Activities, Herrmann SD et al., J Sport Health
 * Sci 2024; 13(1):6-12, for adults of 19 to 59.
 */

export interface Effortful { readonly met: number; readonly minutes: number }

/** The body masses between which the range is given, kg: our own choice, wide enough for most adults. */
export const MASS_KG = { low: 50, high: 100 } as const;

/** Everything in a class that is not work: standing quietly, code 07040 (2011 edition; its value in that of 2024 was not checked). */
export const STANDING_MET = 1.3;

export const kcalPerMinute = (met: number, kg: number): number => (met * 3.5 * kg) / 200;

/** Kilocalories for each kilogram of body: what a mass is multiplied with. */
export const kcalPerKg = (parts: readonly Effortful[]): number => parts.reduce((sum, p) => sum + kcalPerMinute(p.met, 1) * p.minutes, 0);

/** Kilocalories from the lightest to the heaviest body of the range. */
export const kcalRange = (perKg: number): { readonly low: number; readonly high: number } => ({ low: perKg * MASS_KG.low, high: perKg * MASS_KG.high });
