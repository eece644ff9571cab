/**
 * Owns turning a class plan into its flat list of intervals. Pure arithmetic in
 * whole milliseconds: the same plan and facts give the same list.
 */
import type { Position } from '../movement/movement.ts';
import { type FactsOf, factsFor } from './facts.ts';
import type { Interval } from './interval.ts';
import type { Plan, Section } from './plan.ts';
import { floorTimeMs, setUpNeedMs } from './positions.ts';
import { blockOf, type Piece, pieceOf, showWay, talkOf, turnOf } from './pieces.ts';

export interface Compiled {
  readonly intervals: readonly Interval[];
  /** Time that the plan did not ask for, because a rest is shorter than the bodies need. */
  readonly added: readonly { readonly before: string; readonly ms: number }[];
}

/** A rest shorter than this is no rest: it is given to the set-up. */
const LEAST_REST_MS = 3_000;
/** A show needs at least this long to be worth putting into a rest. */
const LEAST_SHOW_MS = 5_000;

interface Walk {
  readonly intervals: Interval[];
  readonly added: { before: string; ms: number }[];
  /** Where the bodies are; null before anything has happened. */
  position: Position | null;
  /** The rest that is due since the last work, and the section it belongs to. */
  restMs: number;
}

export function compile(plan: Plan, facts: FactsOf): Compiled {
  const walk: Walk = { intervals: [], added: [], position: null, restMs: 0 };
  plan.sections.forEach((section, index) => {
    if (section.talk !== undefined) {
      flushRest(walk, index - 1, 0);
      walk.intervals.push(talkOf(section, index));
      walk.position = 'standing';
      return;
    }
    compileSection(walk, plan, section, index, facts);
    if (!section.lastRest) walk.restMs = 0;
  });
  flushRest(walk, plan.sections.length - 1, 0);
  return { intervals: walk.intervals, added: walk.added };
}

/** The rest that is due and has nothing to hold, in full. */
function flushRest(walk: Walk, section: number, round: number): void {
  if (walk.restMs > 0) {
    walk.intervals.push({
      id: `${section}.${round}.rest`, kind: 'rest', ends: 'clock', lengthMs: walk.restMs, section, round, item: -1,
    });
  }
  walk.restMs = 0;
}

function piecesOf(plan: Plan, section: Section, index: number, facts: FactsOf): Piece[] {
  const count = typeof section.rounds === 'number' ? section.rounds : 'seconds' in section.rounds ? section.rounds.seconds.length : section.rounds.reps.length;
  const rounds = Array.from({ length: count }, (_, r) => r + 1);
  const context = { plan, section, index, facts };
  switch (section.way) {
    case 'follow-me': return rounds.map((round) => blockOf(context, round));
    case 'stations': return rounds.flatMap((round) => section.items.map((_, turn) => turnOf(context, round, turn)));
    case 'together': return rounds.flatMap((round) => section.items.map((_, item) => pieceOf(context, round, item)));
  }
}

function compileSection(walk: Walk, plan: Plan, section: Section, index: number, facts: FactsOf): void {
  const way = showWay(section);
  if (way === 'all-first') {
    section.items.forEach((item, i) => {
      if (item.show === false) return;
      flushRest(walk, index - 1, 0);
      walk.intervals.push(showOf(section, index, 0, i, item.movement));
      walk.position = 'standing';
    });
  }
  for (const piece of piecesOf(plan, section, index, facts)) {
    const item = section.items[piece.item];
    const wanted = piece.round === 1 && item && section.way === 'together' && way !== 'all-first';
    const shows = wanted ? (item.show ?? way !== 'none') : false;
    approach(walk, plan, section, piece, facts, shows ? (way === 'in-the-rest' ? 'in-the-rest' : 'each') : 'none');
    walk.intervals.push(...piece.work);
    walk.position = piece.end;
    walk.restMs = piece.restMs;
  }
}

const showOf = (section: Section, index: number, round: number, item: number, movement: string): Interval => ({
  id: `${index}.${round}.${item}.show`,
  kind: 'show', ends: 'go', lengthMs: Math.round(section.showEstimate * 1_000), section: index, round, item, movement,
});

/** What lies between the last work and this one: rest, show, set-up. */
function approach(walk: Walk, plan: Plan, section: Section, piece: Piece, facts: FactsOf, show: 'none' | 'each' | 'in-the-rest'): void {
  const { section: index, round, item } = piece;
  const movement = piece.movement === undefined ? {} : { movement: piece.movement };
  const after = show === 'each' || walk.intervals.at(-1)?.ends === 'go';
  const setUpMs = piece.setUpMs ?? needMs(walk.position, piece, plan, facts, after);
  const dueMs = walk.restMs;
  const restMs = dueMs - setUpMs >= LEAST_REST_MS ? dueMs - setUpMs : 0;
  const inRest = show === 'in-the-rest' && restMs >= LEAST_SHOW_MS;
  // A rest too short for it makes it a show like any other, on go.
  if (show === 'in-the-rest' && !inRest) {
    approach(walk, plan, section, piece, facts, 'each');
    return;
  }
  walk.restMs = 0;
  const place = { section: index, round, item };
  if (restMs > 0) {
    walk.intervals.push({
      id: `${index}.${round}.${item}.${inRest ? 'show' : 'rest'}`,
      kind: inRest ? 'show' : 'rest', ends: 'clock', lengthMs: restMs, ...place, ...movement,
      ...(piece.moveRound && piece.work[0]?.stations ? { stations: piece.work[0].stations } : {}),
    });
  }
  if (show === 'each' && piece.movement) walk.intervals.push(showOf(section, index, round, item, piece.movement));
  const lengthMs = restMs > 0 ? setUpMs : Math.max(setUpMs, dueMs);
  if (lengthMs === 0) return;
  const first = piece.work[0];
  const id = `${index}.${round}.${item}.set-up`;
  walk.intervals.push({
    id, kind: 'set-up', ends: 'clock', lengthMs, ...place, ...movement,
    ...(first?.side ? { side: first.side } : {}),
    ...(first?.stations ? { stations: first.stations } : {}),
    ...(first?.prompts ? { prompts: first.prompts } : {}),
  });
  if (lengthMs > dueMs) walk.added.push({ before: first?.id ?? id, ms: lengthMs - dueMs });
}

/** Milliseconds of set-up: from position to position; from standing where somebody may have stood up to watch. */
function needMs(from: Position | null, piece: Piece, plan: Plan, facts: FactsOf, watched: boolean): number {
  const starts = piece.starts;
  if (piece.moveRound) {
    return Math.max(...piece.moveRound.map((id, i) => {
      const next = piece.moveRound?.[(i + 1) % piece.moveRound.length] ?? id;
      return setUpNeedMs(factsFor(facts, id).end, factsFor(facts, next).start, plan.group);
    }));
  }
  return Math.max(...starts.map((to) => {
    if (from === null && !watched) return floorTimeMs(to, plan.group);
    const need = setUpNeedMs(from ?? 'standing', to, plan.group);
    return watched ? Math.max(need, floorTimeMs(to, plan.group)) : need;
  }));
}
