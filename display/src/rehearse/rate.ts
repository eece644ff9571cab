/** Owns how fast a rehearsal may run. */

export const RATE_MOST = 20;
const steps = [1, 2, 3, 5, 10, 15, 20] as const;

/** A whole rate from what the address says; ten where it says nothing that can be used. */
export function rateOf(text: string | null): number {
  const asked = text === null || text.trim() === '' ? Number.NaN : Math.round(Number(text));
  return Number.isFinite(asked) ? Math.min(RATE_MOST, Math.max(1, asked)) : 10;
}

export const faster = (rate: number): number => steps.find((s) => s > rate) ?? RATE_MOST;
export const slower = (rate: number): number => steps.findLast((s) => s < rate) ?? 1;
