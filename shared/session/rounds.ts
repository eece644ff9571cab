/**
 * Owns what can be taken out of a class and put into it as a whole: the last
 * round of a section, one more round, a movement in all that is left of it. Says
 * what the intervals are; whether and how it happens is the commands' business.
 */
import { ADDED_MAX } from '../limits.ts';
import { compile } from '../plan/compile.ts';
import type { Interval } from '../plan/interval.ts';
import type { Plan, Section } from '../plan/plan.ts';
import { expected } from './commands/start.ts';
import type { Session } from './session.ts';

/** The numbers of a section's rounds, in order. */
export function roundsOf(list: readonly Interval[], section: number): number[] {
  const seen = new Set<number>();
  for (const i of list) if (i.section === section && i.round > 0 && i.kind !== 'rest') seen.add(i.round);
  return [...seen].sort((a, b) => a - b);
}

/** The last `count` rounds of a section, if none of them has begun and one is left; a rest that runs stays. */
export function lastRounds(list: readonly Interval[], section: number, count: number, index: number): Interval[] | null {
  const rounds = roundsOf(list, section);
  if (rounds.length <= count) return null;
  const gone = new Set(rounds.slice(-count));
  const its = list.map((i, k) => ({ i, k })).filter(({ i }) => i.section === section && gone.has(i.round));
  if (its.some(({ i, k }) => k <= index && i.kind !== 'rest')) return null;
  return its.filter(({ k }) => k > index).map(({ i }) => i);
}

/** What is left of a movement: each round of it that has not begun, with its rest unless that runs. */
export function restOfMovement(list: readonly Interval[], section: number, item: number, index: number): Interval[] {
  const its = list.map((i, k) => ({ i, k })).filter(({ i }) => i.section === section && i.item === item && !i.stations && !i.prompts);
  const begun = new Set(its.filter(({ i, k }) => k <= index && i.kind !== 'rest').map(({ i }) => i.round));
  return its.filter(({ i, k }) => k > index && !begun.has(i.round)).map(({ i }) => i);
}

/** Movements of a section that something is left of to do: their indices. */
export const itemsLeft = (list: readonly Interval[], section: number, index: number): number[] =>
  [...new Set(list.filter((i, k) => k > index && i.section === section && i.kind === 'work' && i.item >= 0).map((i) => i.item))];

/** Left and right of each pair lose the same, or keep it. */
export function keepsSidesEven(removed: readonly Interval[]): boolean {
  const owed = new Map<string, number>();
  for (const i of removed) {
    if (i.kind !== 'work' || !i.pair || !i.side) continue;
    owed.set(i.pair, (owed.get(i.pair) ?? 0) + (i.side === 'left' ? i.lengthMs : -i.lengthMs));
  }
  return [...owed.values()].every((ms) => ms === 0);
}

/** A list without these. */
export function without(list: readonly Interval[], removed: readonly Interval[]): Interval[] {
  const gone = new Set(removed);
  return list.filter((i) => !gone.has(i));
}

/** New names: what is put in by hand is never called like anything before. */
export function renamed(s: Session, intervals: readonly Interval[]): Interval[] {
  const mark = `+${s.changes + 1}`;
  // The sides of "by round" are summed over all rounds; all others belong to one piece of work.
  const perRound = (i: Interval) => i.pair !== undefined && i.pair.split('.').length > 2;
  return intervals.map((i) => ({ ...i, id: `${i.id}${mark}`, ...(perRound(i) ? { pair: `${i.pair}${mark}` } : {}) }));
}

export const mayAdd = (s: Session): boolean => s.changes < ADDED_MAX;

/** A section as it goes on from now: movements replaced, and with so many rounds; the last of a ladder is repeated. */
function goesOn(s: Session, index: number, rounds: number): Section {
  const section = s.plan.sections[index] as Section;
  const more = <T>(steps: readonly T[]): T[] => Array.from({ length: rounds }, (_, r) => steps[Math.min(r, steps.length - 1)] as T);
  const ladder = typeof section.rounds === 'number' ? rounds
    : 'seconds' in section.rounds ? { seconds: more(section.rounds.seconds) } : { reps: more(section.rounds.reps) };
  const items = section.items.map((item, k) => {
    const movement = s.replaced[`${index}.${k}`];
    return movement ? replacedItem(s, section, item, movement) : item;
  });
  return { ...section, rounds: ladder, items };
}

/** A movement in the place of another: its own sides, the same time; a count stays a count. */
export function replacedItem(s: Session, section: Section, item: Section['items'][number], movement: string): Section['items'][number] {
  const way = s.facts[movement]?.sides ?? 'together';
  const said = item.sides ?? section.sides;
  const oneSided = said === 'full' || said === 'by-round' || said === 'half' ? said : 'half';
  return { ...item, movement, sides: way === 'each' ? oneSided : way };
}

/** A section compiled afresh with so many rounds, as it goes on from now. Nothing else of the plan is changed. */
export function compiledSection(s: Session, index: number, rounds: number): Interval[] {
  const plan: Plan = { ...s.plan, sections: s.plan.sections.map((section, k) => (k === index ? goesOn(s, index, rounds) : section)) };
  return compile(plan, s.facts).intervals.filter((i) => i.section === index).map((i) => expected(i, s.estimates));
}

/** One more round of a section, without shows and without what was left out. */
export function oneMoreRound(s: Session, section: number): Interval[] {
  const round = (roundsOf(s.intervals, section).at(-1) ?? 0) + 1;
  return renamed(s, compiledSection(s, section, round).filter((i) =>
    i.round === round && i.kind !== 'show' && s.replaced[`${section}.${i.item}`] !== null));
}
