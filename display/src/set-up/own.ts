/**
 * Owns what is set about this one screen and the hall it hangs in: kept on the screen itself,
 * since a screen that is carried into another hall is measured anew. Leaves alone its sound
 * (shared/sound/settings.ts).
 */
import {
  FARTHEST_LEAST_MM, FARTHEST_MOST_MM, LOWER_EDGE_LEAST_MM, LOWER_EDGE_MOST_MM, SCREEN_LEAST_INCH, SCREEN_MOST_INCH,
} from '../../../shared/limits.ts';
import { usualHall } from '../../../shared/ui/wall/legibility.ts';

export interface Own {
  readonly diagonalInch: number;
  readonly lowerEdgeMm: number;
  readonly farthestMatMm: number;
  /** The device's own wish unless it is said here. */
  readonly light: 'device' | 'day' | 'dim';
  /** A margin for televisions that cut the edge off. */
  readonly overscan: boolean;
}

const between = (value: unknown, least: number, most: number): boolean => typeof value === 'number' && value >= least && value <= most;
/** What was kept, looked over by hand: it is the one thing that a screen reads through a schema, and the library is 25 kB. */
const isOwn = (kept: Partial<Record<keyof Own, unknown>> | null): kept is Own => kept !== null
  && between(kept.diagonalInch, SCREEN_LEAST_INCH, SCREEN_MOST_INCH)
  && between(kept.lowerEdgeMm, LOWER_EDGE_LEAST_MM, LOWER_EDGE_MOST_MM)
  && between(kept.farthestMatMm, FARTHEST_LEAST_MM, FARTHEST_MOST_MM)
  && (kept.light === 'device' || kept.light === 'day' || kept.light === 'dim')
  && typeof kept.overscan === 'boolean';

/** The lower edge belongs where the heads of those who stand do not hide it. */
export const GOOD_LOWER_EDGE_MM = 1_500;
export const usual: Own = { ...usualHall, lowerEdgeMm: GOOD_LOWER_EDGE_MM, light: 'device', overscan: false };

const KEY = 'hallclock.screen';

export function loadOwn(): Own {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? 'null') as Partial<Record<keyof Own, unknown>> | null;
    return isOwn(kept) ? kept : usual;
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
