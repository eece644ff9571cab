/** Owns the one place in the server where a real clock is read. Server time is made from it in core/server-time.ts. */
import { readFileSync } from 'node:fs';
import { hostname, uptime } from 'node:os';
import { type ServerAt, serverAt } from '../shared/time/units.ts';
import { clockName, type Readings, type TimeMark } from './core/server-time.ts';

/** Linux names each boot; elsewhere the minute of the boot, as the wall clock has it, has to do. */
function bootId(): string {
  try {
    return readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
  } catch {
    return `${hostname()}@${Math.round((Date.now() / 1_000 - uptime()) / 60)}`;
  }
}

/** The high resolution clock counts from the boot, not from the start of the process, on all systems that Node runs on. */
export const monotonicMs = (): number => Number(process.hrtime.bigint()) / 1e6;

export const readings = (): Readings => ({ wallMs: Date.now(), monotonicMs: monotonicMs(), bootId: bootId() });

export interface Clock {
  /** Another one whenever server time was set anew. */
  readonly name: string;
  /** Whole milliseconds, for stamps. */
  readonly now: () => ServerAt;
  /** With its fraction, for clock samples. */
  readonly exact: () => number;
  readonly timer: (at: ServerAt, run: () => void) => () => void;
}

/** Longer than this a timer of Node cannot wait; it wakes and looks again. */
const TIMER_MOST_MS = 2 ** 31 - 1;

/** @param wakeMs a timer looks again at least this often, where the time may be set */
export function clockBy(name: () => string, exact: () => number, wakeMs = TIMER_MOST_MS): Clock {
  const timer = (at: ServerAt, run: () => void) => {
    let handle: NodeJS.Timeout;
    const wait = () => {
      const leftMs = at - exact();
      if (leftMs <= 0) run();
      else handle = setTimeout(wait, Math.min(Math.ceil(leftMs), wakeMs));
    };
    handle = setTimeout(wait, 0);
    return () => clearTimeout(handle);
  };
  return { get name() { return name(); }, now: () => serverAt(Math.floor(exact())), exact, timer };
}

export const clockFrom = (mark: TimeMark): Clock => clockBy(() => clockName(mark), () => monotonicMs() + mark.offsetMs);
