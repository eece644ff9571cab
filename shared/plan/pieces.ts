/**
 * Owns one piece of work of a section as intervals: a movement of a round with
 * its sides, a follow-me block, or a turn at the stations; and talk. Leaves alone
 * what lies between two pieces (compile.ts).
 */
import type { Position } from '../movement/movement.ts';
import { type FactsOf, factsFor } from './facts.ts';
import type { Interval, Side } from './interval.ts';
import type { Item, Plan, Section, sidesWays } from './plan.ts';
import { otherSideMs } from './positions.ts';

export interface Piece {
  readonly section: number;
  readonly round: number;
  readonly item: number;
  readonly movement?: string;
  readonly work: readonly Interval[];
  /** Positions that it can begin in; more than one at stations. */
  readonly starts: readonly Position[];
  readonly end: Position;
  readonly restMs: number;
  /** Set-up where the plan says it itself. */
  readonly setUpMs?: number;
  /** Stations: the movements in their order, where everybody moves to the next place. */
  readonly moveRound?: readonly string[];
}

interface Context {
  readonly plan: Plan;
  readonly section: Section;
  readonly index: number;
  readonly facts: FactsOf;
}

const ms = (seconds: number): number => Math.round(seconds * 1_000);
const opposite = (side: Side): Side => (side === 'right' ? 'left' : 'right');

/** Which shows a section has: none outside main; each first in main, all first at stations. */
export function showWay(section: Section): NonNullable<Section['show']> {
  if (section.show) return section.show;
  if (section.kind !== 'main' || section.way === 'follow-me') return 'none';
  return section.way === 'stations' ? 'all-first' : 'each';
}

export const talkOf = (section: Section, index: number): Interval => ({
  id: `${index}.talk`, kind: 'talk', ends: 'go', lengthMs: ms(section.talk ?? 60), section: index, round: 0, item: -1,
});

/** Seconds of work this round, of a ladder or of the movement. */
function workS(section: Section, item: Item | undefined, round: number): number | undefined {
  const { rounds } = section;
  if (typeof rounds === 'object' && 'seconds' in rounds) return rounds.seconds[round - 1];
  return item?.work ?? section.work;
}

/** Whether the sides differ, and how: said by the plan, else as the movement is done. */
export function sidesWay(section: Section, item: Item, facts: FactsOf): (typeof sidesWays)[number] {
  const said = item.sides ?? section.sides;
  if (said) return said;
  const { sides } = factsFor(facts, item.movement);
  return sides === 'each' ? 'half' : sides;
}

function leadOf(section: Section, item: Item, round: number): Side {
  const lead = item.lead ?? section.lead ?? 'changes';
  if (lead !== 'changes') return lead;
  return round % 2 === 1 ? 'right' : 'left';
}

/** One movement of one round, done together. */
export function pieceOf({ plan, section, index, facts }: Context, round: number, itemIndex: number): Piece {
  const item = section.items[itemIndex] as Item;
  const f = factsFor(facts, item.movement);
  const ladder = typeof section.rounds === 'object' && 'reps' in section.rounds ? section.rounds.reps[round - 1] : undefined;
  const target = ladder === undefined ? (item.target ?? section.target) : ({ of: 'reps', n: ladder } as const);
  // A count ends on go, unless somebody says that the clock ends it: turns that begin every minute.
  const ends = item.ends ?? section.ends ?? (target ? 'go' : 'clock');
  const wholeMs = ms(workS(section, item, round) ?? (target?.n ?? 1) * (f.tempoS ?? 3));
  const way = sidesWay(section, item, facts);
  const id = `${index}.${round}.${itemIndex}`;
  const common = {
    kind: 'work', ends, section: index, round, item: itemIndex, movement: item.movement, ...(target ? { target } : {}),
  } as const;
  const setUp = item.setUp ?? section.setUp;
  return {
    section: index,
    round,
    item: itemIndex,
    movement: item.movement,
    work: work(),
    starts: [f.start],
    end: f.end,
    restMs: ms(item.rest ?? section.rest ?? 0),
    ...(setUp === undefined ? {} : { setUpMs: ms(setUp) }),
  };

  function work(): Interval[] {
    const lead = leadOf(section, item, round);
    switch (way) {
      case 'together': return [{ id: `${id}.work`, ...common, lengthMs: wholeMs }];
      case 'alternating': return [{ id: `${id}.work`, ...common, lengthMs: wholeMs, alternating: true }];
      case 'by-round': {
        // One lead a round, so the sides must take turns whatever the lead says; it names the first.
        const first = (item.lead ?? section.lead) === 'left' ? 'left' : 'right';
        const side = round % 2 === 1 ? first : opposite(first);
        return [{ id: `${id}.${side}`, ...common, lengthMs: wholeMs, side, pair: `${index}.${itemIndex}` }];
      }
      case 'half':
      case 'full': {
        const lengthMs = way === 'half' ? Math.round(wholeMs / 2) : wholeMs;
        const one = (side: Side): Interval => ({ id: `${id}.${side}`, ...common, lengthMs, side, pair: id });
        const turn: Interval = {
          id: `${id}.other`, kind: 'other-side', ends: 'clock', lengthMs: otherSideMs(f.start, plan.group),
          section: index, round, item: itemIndex, movement: item.movement, side: opposite(lead),
        };
        return [one(lead), turn, one(opposite(lead))];
      }
    }
  }
}

/** Follow me: one length for the block; the movements are prompts. */
export function blockOf({ section, index, facts }: Context, round: number): Piece {
  const prompts = section.items.map((i) => i.movement);
  const first = factsFor(facts, prompts[0] ?? '');
  const last = factsFor(facts, prompts.at(-1) ?? '');
  return {
    section: index,
    round,
    item: -1,
    work: [{
      id: `${index}.${round}.block`, kind: 'work', ends: section.ends ?? 'clock', lengthMs: ms(workS(section, undefined, round) ?? 60),
      section: index, round, item: -1, prompts,
    }],
    starts: [first.start],
    end: last.end,
    restMs: ms(section.rest ?? 0),
    ...(section.setUp === undefined ? {} : { setUpMs: ms(section.setUp) }),
  };
}

/** Stations: everybody on a different one, the same clock; each turn everybody has moved one place on. */
export function turnOf({ section, index, facts }: Context, round: number, turn: number): Piece {
  const movements = section.items.map((i) => i.movement);
  const first = round === 1 && turn === 0;
  return {
    section: index,
    round,
    item: turn,
    work: [{
      id: `${index}.${round}.${turn}.work`, kind: 'work', ends: section.ends ?? 'clock',
      lengthMs: ms(workS(section, section.items[turn], round) ?? 60), section: index, round, item: turn,
      stations: { movements, turn: (round - 1) * movements.length + turn },
    }],
    starts: movements.map((id) => factsFor(facts, id).start),
    end: 'standing',
    restMs: ms(section.rest ?? 0),
    ...(section.setUp === undefined ? {} : { setUpMs: ms(section.setUp) }),
    ...(first ? {} : { moveRound: movements }),
  };
}
