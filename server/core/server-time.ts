/**
 * Owns what time it is on the server: its wall clock read once at the start and
 * carried by the monotonic clock, so that a step of the wall clock moves no class.
 * Pure: the readings are handed in (server/real-clock.ts makes them).
 */

/** What the operating system's clocks say at one moment. */
export interface Readings {
  readonly wallMs: number;
  /** Milliseconds since the boot; goes on from one process to the next. */
  readonly monotonicMs: number;
  /** Another one after each boot. */
  readonly bootId: string;
}

/** "In this boot, server time is the monotonic clock and so much." It does not change while a server runs. */
export interface TimeMark {
  readonly bootId: string;
  readonly offsetMs: number;
}

/** The name of a clock on the wire: another one whenever server time was set anew. */
export const clockName = ({ bootId, offsetMs }: TimeMark): string => `${bootId.slice(0, 8)} ${offsetMs}`;

/**
 * The mark to go on from. In the same boot, while a class runs, it is the stored
 * one, exactly; else the wall clock is believed. Never before the newest event.
 */
export function timeMark(
  { wallMs, monotonicMs, bootId }: Readings,
  stored: TimeMark | null,
  classRuns: boolean,
  lastEventAt: number,
): TimeMark {
  const goesOn = classRuns && stored?.bootId === bootId;
  const offsetMs = goesOn ? stored.offsetMs : wallMs - monotonicMs;
  return { bootId, offsetMs: Math.max(offsetMs, lastEventAt - monotonicMs) };
}
