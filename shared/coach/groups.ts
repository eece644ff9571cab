/** Owns the words for who comes. A group is a label of a class, never of a person. */
import type { Plan } from '../plan/plan.ts';

export type Group = Plan['group'];

export const groupWords: Readonly<Record<Group, string>> = {
  general: 'Everybody',
  beginners: 'Beginners',
  'older-adults': 'Older adults',
  pregnancy: 'Pregnancy and after',
  returning: 'Returning from injury',
};

/** Inside a sentence: "for older adults". */
export const forWhom: Readonly<Record<Group, string>> = {
  general: 'a mixed class',
  beginners: 'beginners',
  'older-adults': 'older adults',
  pregnancy: 'a class for pregnancy and after',
  returning: 'people returning from injury',
};

/** What the coach is not: said wherever a rule speaks of a body. */
export const ASK_FIRST = 'Ask first; what a midwife, doctor or physiotherapist has told somebody comes before any plan.';
