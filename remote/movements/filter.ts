/** Owns which movements are shown: what was typed and what was ticked. Within a group any will do, needs must all be met. */
import { type Movement, type Need, onFloor, type Position } from '../../shared/movement/movement.ts';

export interface Choice {
  readonly text: string;
  readonly where: readonly ('floor' | Position)[];
  readonly pattern: readonly Movement['pattern'][];
  readonly impact: readonly Movement['impact'][];
  readonly suits: readonly Movement['suits'][number][];
  readonly sides: readonly Movement['sides'][];
  readonly areas: readonly Movement['areas'][number][];
  readonly needs: readonly Need[];
}
export const everything: Choice = { text: '', where: [], pattern: [], impact: [], suits: [], sides: [], areas: [], needs: [] };
export type Group = Exclude<keyof Choice, 'text'>;

/** Letters as they are typed in a hurry: small, without accents. */
const plain = (s: string): string => s.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase().replace(/-/g, ' ');

const any = <T>(chosen: readonly T[], has: (one: T) => boolean): boolean => chosen.length === 0 || chosen.some(has);

function named(m: Movement, text: string): boolean {
  const names = plain([m.name, ...m.otherNames].join(' '));
  return plain(text).split(/\s+/).every((word) => names.includes(word));
}

const fits = (m: Movement, c: Choice): boolean =>
  named(m, c.text)
  && any(c.where, (w) => (w === 'floor' ? onFloor(m.start) || onFloor(m.end) : m.start === w || m.end === w))
  && any(c.pattern, (p) => m.pattern === p)
  && any(c.impact, (i) => m.impact === i)
  && any(c.suits, (s) => m.suits.includes(s))
  && any(c.sides, (s) => m.sides === s)
  && any(c.areas, (a) => m.areas.includes(a))
  && c.needs.every((n) => m.forNeeds[n] !== undefined);

export const AS_SHOWN = 'As shown';
const changed = (m: Movement, needs: readonly Need[]): number => needs.filter((n) => m.forNeeds[n]?.words !== AS_SHOWN).length;

/** By name; where needs were named, first what can be done as it is shown. */
export function choose(movements: readonly Movement[], c: Choice): Movement[] {
  return movements.filter((m) => fits(m, c))
    .sort((a, b) => changed(a, c.needs) - changed(b, c.needs) || (a.name < b.name ? -1 : 1));
}

export const ticked = (c: Choice): number => c.where.length + c.pattern.length + c.impact.length + c.suits.length + c.sides.length + c.areas.length + c.needs.length;

export function toggled<G extends Group>(c: Choice, group: G, one: Choice[G][number]): Choice {
  const list: readonly unknown[] = c[group];
  return { ...c, [group]: list.includes(one) ? list.filter((x) => x !== one) : [...list, one] };
}
