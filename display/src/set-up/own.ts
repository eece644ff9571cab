/**
 * Owns what is set about this one screen and the hall it hangs in: kept on the screen itself,
 * since a screen that is carried into another hall is measured anew. Leaves alone its sound
 * (shared/sound/settings.ts).
 */
import { z } from 'zod';
import {
  FARTHEST_LEAST_MM, FARTHEST_MOST_MM, LOWER_EDGE_LEAST_MM, LOWER_EDGE_MOST_MM, SCREEN_LEAST_INCH, SCREEN_MOST_INCH,
} from '../../../shared/limits.ts';
import { usualHall } from '../../../shared/ui/wall/legibility.ts';

export const ownSchema = z.strictObject({
  diagonalInch: z.number().min(SCREEN_LEAST_INCH).max(SCREEN_MOST_INCH),
  lowerEdgeMm: z.number().min(LOWER_EDGE_LEAST_MM).max(LOWER_EDGE_MOST_MM),
  farthestMatMm: z.number().min(FARTHEST_LEAST_MM).max(FARTHEST_MOST_MM),
  /** The device's own wish unless it is said here. */
  light: z.enum(['device', 'day', 'dim']),
  /** A margin for televisions that cut the edge off. */
  overscan: z.boolean(),
});
export type Own = z.infer<typeof ownSchema>;

/** The lower edge belongs where the heads of those who stand do not hide it. */
export const GOOD_LOWER_EDGE_MM = 1_500;
export const usual: Own = { ...usualHall, lowerEdgeMm: GOOD_LOWER_EDGE_MM, light: 'device', overscan: false };

const KEY = 'hallclock.screen';

export function loadOwn(): Own {
  try {
    const read = ownSchema.safeParse(JSON.parse(localStorage.getItem(KEY) ?? 'null'));
    return read.success ? read.data : usual;
  } catch {
    // Private windows have no storage: the usual hall will do.
    return usual;
  }
}

export function saveOwn(own: Own): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(own));
  } catch {
    // Kept until the page is closed.
  }
}

/** What the address asks for comes first, for one look or for a screen that keeps nothing. */
export function withAsked(own: Own, search: string): Own {
  const asked = new URLSearchParams(search);
  const light = asked.get('theme');
  return {
    ...own,
    light: light === 'day' || light === 'dim' ? light : own.light,
    overscan: own.overscan || asked.has('overscan'),
  };
}
