/** Owns what the editor calls the fields of a plan, as instructors say them. */
import type { Movement } from '../../../shared/movement/movement.ts';
import type { Item, Section } from '../../../shared/plan/plan.ts';

export const kindWords: Record<Section['kind'], string> = { welcome: 'Welcome', 'warm-up': 'Warm-up', main: 'Main', 'cool-down': 'Cool-down', 'clear-up': 'Clear up' };
export const wayWords: readonly (readonly [Section['way'], string])[] = [['together', 'together'], ['follow-me', 'follow me'], ['stations', 'stations']];
export const sidesList: readonly (readonly [NonNullable<Item['sides']> | '', string])[] = [
  ['', 'as the move is done'], ['together', 'both together'], ['alternating', 'left and right in turn'], ['half', 'swap at half'], ['full', 'all of it a side'], ['by-round', 'one side a round'],
];
export const leadList: readonly (readonly ['right' | 'left' | 'changes' | '', string])[] = [['', 'changes each round'], ['right', 'right first'], ['left', 'left first']];
export const showList: readonly (readonly [NonNullable<Section['show']> | '', string])[] = [
  ['', 'as usual'], ['none', 'nothing'], ['each', 'each before its first'], ['all-first', 'all before the section'], ['in-the-rest', 'in the rest'],
];
export const endsList: readonly (readonly ['clock' | 'go' | '', string])[] = [['', 'by the clock'], ['go', 'on go']];

/** "5:30": minutes and seconds of a plan. */
export function clockWords(ms: number): string {
  const s = Math.round(ms / 1_000);
  return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;
}

/** "15 s a side": what the work of a movement comes to, said in full. */
export function workWords(item: Item, section: Section, movement: Movement | undefined): string {
  if (section.way === 'follow-me') return '';
  const target = item.target ?? section.target;
  if (target) return `${target.n} ${target.of}, ${(item.ends ?? section.ends) === 'clock' ? 'by the clock' : 'on go'}`;
  const work = item.work ?? section.work;
  const sides = item.sides ?? section.sides ?? (movement?.sides === 'each' ? 'half' : undefined);
  if (work === undefined) return typeof section.rounds === 'number' ? '' : 'by the ladder';
  if (movement?.sides !== 'each') return `${work} s`;
  if (sides === 'half') return `${work / 2} s a side`;
  if (sides === 'full') return `${work} s a side`;
  if (sides === 'by-round') return `${work} s, one side a round`;
  return `${work} s`;
}
