/**
 * Owns what shows really take, learned from the logs of past classes: by movement
 * and instructor. Pure: logs in, estimates out. Leaves alone whose logs they are.
 */
import { PLAN_MOST_S, SHOW_PRIOR } from '../limits.ts';
import type { Interval } from '../plan/interval.ts';
import type { Plan } from '../plan/plan.ts';
import type { Event } from './command.ts';
import { evolve } from './evolve.ts';
import { placeAt } from './place.ts';
import type { Session } from './session.ts';

/** One show that was ended by a go: how long it was watched, without pauses. */
export interface ShowTime {
  readonly movement: string;
  /** Null where the start did not say who teaches. */
  readonly instructor: string | null;
  readonly ms: number;
}

/** The shows of one class. */
export function showTimes(events: readonly Event[]): ShowTime[] {
  const out: ShowTime[] = [];
  let s: Session | null = null;
  /** The show in which the class was stopped: it says nothing of how long it takes. */
  let stoppedIn: string | null = null;
  for (const event of events) {
    if (s && event.type === 'stopped') stoppedIn = s.intervals[placeAt(s, event.at).index]?.id ?? null;
    if (s && event.type === 'went') {
      const { index, elapsedMs } = placeAt(s, event.at);
      const i: Interval | undefined = s.intervals[index];
      if (i?.kind === 'show' && i.movement !== undefined && elapsedMs > 0 && i.id !== stoppedIn) out.push({ movement: i.movement, instructor: s.instructor, ms: elapsedMs });
    }
    s = evolve(s, event);
  }
  return out;
}

export function median(sorted: readonly number[]): number {
  const half = Math.floor(sorted.length / 2);
  const [a, b] = [sorted[sorted.length % 2 === 0 ? half - 1 : half] ?? 0, sorted[half] ?? 0];
  return (a + b) / 2;
}

/**
 * The median of n measured times, pulled toward the plan's estimate while they are
 * few: (n * median + 3 * planned) / (n + 3), to the whole second, at least one.
 */
export function shrunkenMs(measured: readonly number[], plannedMs: number): number {
  const n = measured.length;
  const middle = median([...measured].sort((a, b) => a - b));
  return Math.max(1_000, Math.round((n * middle + SHOW_PRIOR * plannedMs) / (n + SHOW_PRIOR) / 1_000) * 1_000);
}

export interface Learned {
  readonly movement: string;
  readonly plannedMs: number;
  /** "Usually 34 s." */
  readonly usuallyMs: number;
  /** How many shows it was learned from. */
  readonly of: number;
  /** Whose they were: this instructor's own, or everybody's, because there are none of their own. */
  readonly from: 'own' | 'everybody';
}

/** What the shows of a plan will take with this instructor; nothing for a movement that nobody has shown. */
export function learned(times: readonly ShowTime[], plan: Plan, instructor: string | null): Learned[] {
  const planned = new Map<string, number>();
  for (const section of plan.sections) {
    for (const { movement } of section.items) if (!planned.has(movement)) planned.set(movement, Math.round(section.showEstimate * 1_000));
  }
  return [...planned].flatMap(([movement, plannedMs]): Learned[] => {
    const all = times.filter((t) => t.movement === movement);
    const own = instructor === null ? [] : all.filter((t) => t.instructor === instructor);
    const used = own.length > 0 ? own : all;
    if (used.length === 0) return [];
    const from = own.length > 0 ? 'own' : 'everybody';
    return [{ movement, plannedMs, usuallyMs: shrunkenMs(used.map((t) => t.ms), plannedMs), of: used.length, from }];
  });
}

/** As the start command carries them. */
export const estimatesOf = (known: readonly Learned[]): Record<string, number> =>
  Object.fromEntries(known.map((l) => [l.movement, Math.min(l.usuallyMs, PLAN_MOST_S * 1_000)]));
