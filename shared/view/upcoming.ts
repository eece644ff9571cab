/** Owns what comes next: the movement after this one, and how the body gets there. */
import { onFloor, type Position } from '../movement/movement.ts';
import { factsFor } from '../plan/facts.ts';
import { type Interval, type Side, unitOf } from '../plan/interval.ts';
import type { Place } from '../session/place.ts';
import type { Session } from '../session/session.ts';

export interface Upcoming {
  /** Null at stations and at the end of the class's movements. */
  readonly movement: string | null;
  readonly kind: 'movement' | 'stations' | 'talk' | 'water' | 'end';
  readonly section: number;
  readonly side: Side | null;
  /** How it is reached from what comes before it. */
  readonly way: 'same' | 'to-the-floor' | 'still-on-the-floor' | 'up';
}

function wayOf(from: Position | null, to: Position | null): Upcoming['way'] {
  const [a, b] = [from !== null && onFloor(from), to !== null && onFloor(to)];
  if (a && b) return 'still-on-the-floor';
  return a ? 'up' : b ? 'to-the-floor' : 'same';
}

/** What comes after the movement that runs; in a rest or a talk, the first that comes. */
export function nextOf(s: Session, place: Place, prompt: number | null): Upcoming | null {
  const now = s.intervals[place.index];
  if (!now) return null;
  const start = (id: string | undefined) => (id === undefined ? null : factsFor(s.facts, id).start);
  const end = (id: string | undefined) => (id === undefined ? null : factsFor(s.facts, id).end);
  const following = now.prompts?.[(prompt ?? 0) + 1];
  if (now.prompts && following !== undefined) {
    const way = wayOf(end(now.prompts[prompt ?? 0]), start(following));
    return { movement: following, kind: 'movement', section: now.section, side: null, way };
  }
  const own = now.kind === 'rest' ? null : unitOf(now);
  const then = s.intervals.find((i, k) => k > place.index && comes(i) && unitOf(i) !== own);
  if (!then) return { movement: null, kind: 'end', section: now.section, side: null, way: 'same' };
  const before = own === null ? s.intervals.findLast((i, k) => k < place.index && i.kind === 'work') : now;
  const from = before?.movement ?? before?.prompts?.at(-1);
  const to = then.movement ?? then.prompts?.[0];
  const kind = then.stations ? 'stations' : then.kind !== 'talk' ? 'movement' : then.break === 'water' ? 'water' : 'talk';
  const side = s.intervals.find((i, k) => k > place.index && i.kind === 'work' && unitOf(i) === unitOf(then))?.side ?? null;
  return { movement: to ?? null, kind, section: then.section, side, way: wayOf(end(from), start(to)) };
}

const comes = (i: Interval): boolean => i.kind === 'work' || i.kind === 'show' || i.kind === 'talk';
