/**
 * Owns one value that two have: taken from the one who changed it, or a conflict with
 * both values in it. What was chosen for a conflict is given by its place. Leaves alone
 * what the values belong to (merge.ts, merge-items.ts) and how they are said (coach).
 */
import type { Section } from './plan.ts';

export type Whose = 'mine' | 'theirs';
/** What somebody took, by the place of the conflict. */
export type Chosen = Readonly<Record<string, Whose>>;

export interface Conflict {
  /** Names the place: "name", "main/work", "main/items/2/rest". The same in every merge of the same three. */
  readonly at: string;
  /** In words: "the work of “Main”". */
  readonly where: string;
  readonly field: string;
  /** The section it is in, as mine or theirs has it. */
  readonly section?: Section;
  /** The sections whose order it is. */
  readonly sections?: readonly Section[];
  /** The id of the movement it is said of. */
  readonly movement?: string;
  /** Undefined where it is not said or not there. */
  readonly base: unknown;
  readonly mine: unknown;
  readonly theirs: unknown;
}

/** Alike whatever order their fields came in; a field that is undefined is not there. */
export function same(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null || Array.isArray(a) !== Array.isArray(b)) return false;
  const [x, y] = [a as Record<string, unknown>, b as Record<string, unknown>];
  return [...new Set([...Object.keys(x), ...Object.keys(y)])].every((key) => same(x[key], y[key]));
}

const fieldWords: Readonly<Record<string, string>> = {
  name: 'the name', note: 'the note', forCover: 'the note for cover', group: 'who comes', slot: 'the slot', series: 'the series', waived: 'what was waived',
  kind: 'the kind', way: 'the way', rounds: 'the rounds', work: 'the work', rest: 'the rest', setUp: 'the set-up', ends: 'how it ends', target: 'the target',
  sides: 'the sides', lead: 'the lead', show: 'the shows', showEstimate: 'the length of a show', lastRest: 'the last rest', talk: 'the length', items: 'the movements',
};
export const fieldName = (field: string): string => fieldWords[field] ?? field;
const kindWords: Record<Section['kind'], string> = { welcome: 'Welcome', 'warm-up': 'Warm-up', main: 'Main', 'cool-down': 'Cool-down', 'clear-up': 'Clear up' };
export const quoted = (s: Section): string => `“${s.name ?? kindWords[s.kind]}”`;

export type Place = Pick<Conflict, 'at' | 'where' | 'field'> & { readonly section?: Section; readonly sections?: readonly Section[]; readonly movement?: string };
export type Fields = Readonly<Record<string, unknown>>;

/** Where a merge writes down what it meets. */
export class Tally {
  readonly conflicts: Conflict[] = [];
  readonly taken: string[] = [];
  readonly chosen: Chosen;
  constructor(chosen: Chosen) {
    this.chosen = chosen;
  }

  took(where: string): void {
    if (!this.taken.includes(where)) this.taken.push(where);
  }

  /** Names a conflict; says what stands in its place, `otherwise` until somebody chose. */
  ask<T>(place: Place, base: unknown, mine: T, theirs: T, otherwise: T): T {
    this.conflicts.push({ ...place, base, mine, theirs });
    const whose = this.chosen[place.at];
    return whose === 'mine' ? mine : whose === 'theirs' ? theirs : otherwise;
  }

  pick<T>(place: Place, base: T, mine: T, theirs: T): T {
    if (same(mine, theirs) || same(theirs, base)) return mine;
    if (same(mine, base)) {
      this.took(place.where);
      return theirs;
    }
    return this.ask(place, base, mine, theirs, mine);
  }

  /** Field by field, without those that are `left`. */
  fields(base: Fields, mine: Fields, theirs: Fields, left: readonly string[], placeOf: (field: string) => Place): Record<string, unknown> {
    const out: Record<string, unknown> = {};
    for (const key of new Set([...Object.keys(mine), ...Object.keys(theirs), ...Object.keys(base)])) {
      if (left.includes(key)) continue;
      const value = this.pick(placeOf(key), base[key], mine[key], theirs[key]);
      if (value !== undefined) out[key] = value;
    }
    return out;
  }
}
