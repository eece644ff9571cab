/**
 * Owns how long the set-ups of a changed list must be: what the bodies need from
 * where they now come. Leaves alone the set-ups of a plan (plan/compile.ts).
 */
import type { Position } from '../movement/movement.ts';
import { factsFor } from '../plan/facts.ts';
import type { Interval } from '../plan/interval.ts';
import { floorTimeMs, setUpNeedMs } from '../plan/positions.ts';
import type { Session } from './session.ts';

interface From {
  /** The interval that decides: the last work, show or talk before. */
  readonly id: string;
  readonly position: Position;
  /** Whether somebody may have stood up in between, to watch or to wait. */
  readonly watched: boolean;
}

function fromOf(s: Session, list: readonly Interval[], index: number): From {
  let watched = false;
  let id: string | null = null;
  for (let k = index - 1; k >= 0; k -= 1) {
    const i = list[k] as Interval;
    if (i.ends === 'go') watched = true;
    if (i.kind === 'rest' || i.kind === 'set-up' || i.kind === 'other-side') continue;
    id ??= i.id;
    if (i.kind === 'talk') return { id, position: 'standing', watched: true };
    if (i.kind === 'show') watched = true;
    else if (i.stations) return { id, position: 'standing', watched };
    else return { id, position: factsFor(s.facts, i.movement ?? i.prompts?.at(-1) ?? '').end, watched };
  }
  return { id: id ?? '', position: 'standing', watched };
}

/** Milliseconds that the set-up at this index of the list needs, whatever it has. */
export function setUpLeastMs(s: Session, list: readonly Interval[], index: number): number {
  const setUp = list[index];
  if (!setUp) return 0;
  const from = fromOf(s, list, index);
  const { stations } = setUp;
  if (!stations) return Math.max(s.settings.countInMs, toMs(s, from, setUp.movement ?? setUp.prompts?.[0] ?? ''));
  const { movements, turn } = stations;
  return movements.reduce((most, id, k) => {
    const next = movements[(k + 1) % movements.length] ?? id;
    const movedMs = turn > 0 ? setUpNeedMs(factsFor(s.facts, id).end, factsFor(s.facts, next).start, s.plan.group) : 0;
    return Math.max(most, movedMs, toMs(s, from, id));
  }, s.settings.countInMs);
}

function toMs(s: Session, { position, watched }: From, movement: string): number {
  const { start } = factsFor(s.facts, movement);
  const ms = setUpNeedMs(position, start, s.plan.group);
  return watched ? Math.max(ms, floorTimeMs(start, s.plan.group)) : ms;
}

/** Where each interval of a list stands. */
export const placesOf = (list: readonly Interval[]): ReadonlyMap<string, number> => new Map(list.map((i, k) => [i.id, k]));

/**
 * A changed list with its set-ups raised to what they need, where they come from
 * somewhere else than before and need more than they did. A plan that asks for no
 * set-up keeps none.
 */
export function fitSetUps(s: Session, list: readonly Interval[], before = placesOf(s.intervals)): Interval[] {
  return list.map((i, k) => {
    if (i.kind !== 'set-up' || i.ends === 'go') return i;
    const old = before.get(i.id);
    if (old !== undefined && fromOf(s, s.intervals, old).id === fromOf(s, list, k).id) return i;
    const leastMs = setUpLeastMs(s, list, k);
    const raise = leastMs > i.lengthMs && (old === undefined || leastMs > setUpLeastMs(s, s.intervals, old));
    return raise ? { ...i, lengthMs: leastMs } : i;
  });
}
