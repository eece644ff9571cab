/**
 * Owns the menu of cuts: what may be taken out as a whole, and how much each
 * interval that has not begun may give. Never the cool-down below its least, one
 * side only, or what is running. The bounds are common practice, no source.
 */
import { COOL_DOWN_LEAST_MS, REST_LEAST_MS, SHARE_STEP_MS, SHOW_LEAST_MS, WORK_LEAST_MS } from '../limits.ts';
import { factsFor } from '../plan/facts.ts';
import type { Interval } from '../plan/interval.ts';
import { countInOwedMs, readyMs } from './place.ts';
import { itemsLeft, keepsSidesEven, lastRounds, restOfMovement, roundsOf, without } from './rounds.ts';
import type { Session } from './session.ts';
import { fitSetUps, placesOf, setUpLeastMs } from './set-ups.ts';

/** One structural choice, and the list that it leaves. */
export interface Choice {
  readonly kind: 'none' | 'round' | 'movement';
  readonly section: number;
  /** How many rounds, or which movement of the section. */
  readonly n: number;
  readonly removed: readonly Interval[];
  readonly list: readonly Interval[];
}

const sectionKind = (s: Session, i: Interval) => s.plan.sections[i.section]?.kind;

/** Nothing, then the last round and more of them, then each movement; main only, in the order of the class. */
export function menu(s: Session, index: number): Choice[] {
  const places = placesOf(s.intervals);
  const choices: Choice[] = [{ kind: 'none', section: -1, n: 0, removed: [], list: s.intervals }];
  const mains = s.plan.sections.flatMap((section, k) => (section.kind === 'main' && section.talk === undefined ? [k] : []));
  const take = (kind: Choice['kind'], section: number, n: number, removed: readonly Interval[]) => {
    if (removed.some((i) => i.kind === 'work') && keepsSidesEven(removed)) {
      choices.push({ kind, section, n, removed, list: fitSetUps(s, without(s.intervals, removed), places) });
    }
  };
  for (const section of mains) {
    for (let n = 1; n < roundsOf(s.intervals, section).length; n += 1) {
      const its = lastRounds(s.intervals, section, n, index);
      if (!its) break;
      take('round', section, n, its);
    }
  }
  for (const section of mains) {
    const items = itemsLeft(s.intervals, section, index);
    for (const item of items.length > 1 ? items : []) take('movement', section, item, restOfMovement(s.intervals, section, item, index));
  }
  return choices;
}

/** Whether work, set-up, rest and show at this index may give anything at all; while paused what leads to the next work may not. */
export function firstCuttable(s: Session, list: readonly Interval[], index: number): number {
  if (!s.pause) return index + 1;
  let k = index;
  while (k < list.length && list[k]?.kind !== 'work' && list[k]?.ends !== 'go') k += 1;
  return Math.max(index, k) + 1;
}

const workOf = (list: readonly Interval[], from: number): Interval | undefined => list.slice(from).find((i) => i.kind === 'work');

/** Right after a go, what bodies need before they work: cut below it the go would owe a count-in instead. */
function afterGoMs(s: Session, list: readonly Interval[], k: number): number {
  const next = list[k - 1]?.ends === 'go' ? workOf(list, k) : undefined;
  return next ? readyMs(s, next) : 0;
}

/** Milliseconds below which a show, a set-up or a rest of this list is not cut; its own length where it gives nothing. */
export function leastMs(s: Session, list: readonly Interval[], k: number, shown: ReadonlySet<string>): number {
  const i = list[k] as Interval;
  switch (i.kind) {
    case 'set-up': return i.ends === 'clock' ? Math.min(i.lengthMs, setUpLeastMs(s, list, k)) : i.lengthMs;
    case 'rest': return i.ends === 'clock' ? Math.min(i.lengthMs, Math.max(REST_LEAST_MS, afterGoMs(s, list, k))) : i.lengthMs;
    case 'show': {
      if (!shown.has(i.movement ?? '')) return i.lengthMs;
      if (i.ends === 'clock') return Math.min(i.lengthMs, Math.max(SHOW_LEAST_MS, afterGoMs(s, list, k)));
      // Cut short it ends by the clock, so that what follows must give the time to get ready.
      return countInOwedMs(s, k + 1, 0, list) === 0 ? Math.min(i.lengthMs, SHOW_LEAST_MS) : i.lengthMs;
    }
    case 'work':
    case 'other-side':
    case 'talk': return i.lengthMs;
  }
}

/** Movements whose show has begun. */
export const shownBy = (s: Session, index: number): Set<string> =>
  new Set(s.intervals.slice(0, index + 1).filter((i) => i.kind === 'show').map((i) => i.movement ?? ''));

/** Milliseconds of work below which a movement is not worth its set-up. */
export function leastWorkMs(s: Session, i: Interval): number {
  if (i.prompts) return i.prompts.reduce((sum, id) => sum + leastOfMs(s, id), 0);
  if (i.stations) return Math.max(...i.stations.movements.map((id) => leastOfMs(s, id)));
  return leastOfMs(s, i.movement ?? '');
}

function leastOfMs(s: Session, movement: string): number {
  const { leastS } = factsFor(s.facts, movement);
  return leastS === undefined ? WORK_LEAST_MS : leastS * 1_000;
}

/** Work of main that is shortened and lengthened together: both sides of a pair, or one interval. */
export interface Together { readonly intervals: readonly Interval[]; readonly steps: number }

/** All work of main that has not begun, with how many steps each can give; a pair with only one side to come gives none. */
export function mainWork(s: Session, list: readonly Interval[], from: number): Together[] {
  const groups = new Map<string, Interval[]>();
  for (let k = from; k < list.length; k += 1) {
    const i = list[k] as Interval;
    if (i.kind !== 'work' || sectionKind(s, i) !== 'main') continue;
    const key = i.pair ?? i.id;
    const known = groups.get(key);
    if (known) known.push(i);
    else groups.set(key, [i]);
  }
  return [...groups.values()].flatMap((intervals) => {
    let [left, steps] = [0, Number.POSITIVE_INFINITY];
    for (const i of intervals) {
      if (i.side === 'left') left += 1;
      steps = Math.min(steps, Math.max(0, Math.floor((i.lengthMs - leastWorkMs(s, i)) / SHARE_STEP_MS)));
    }
    return intervals[0]?.side && left * 2 !== intervals.length ? [] : [{ intervals, steps }];
  });
}

/** Milliseconds that the cool-down of this list holds above its least; less than 0 where it never had that much. */
export function coolDownSpareMs(s: Session, list: readonly Interval[]): number {
  let ms = 0;
  for (const i of list) if (sectionKind(s, i) === 'cool-down') ms += i.lengthMs;
  return Math.max(0, ms - COOL_DOWN_LEAST_MS);
}

export const inCoolDown = (s: Session, i: Interval): boolean => sectionKind(s, i) === 'cool-down';
