/** Owns what a rule of the coach is. Leaves alone the rules themselves (rules/). */
import type { Plan, Section } from '../plan/plan.ts';
import type { Grade, Mend, Where } from './finding.ts';
import type { Study } from './study.ts';

/** What a rule has found: a place, a sentence, perhaps a change that answers it. */
export interface Found {
  readonly where: Where;
  readonly sentence: string;
  readonly mend?: Mend;
  /** Where one rule has a milder case. */
  readonly grade?: Grade;
}

export interface Rule {
  readonly id: string;
  readonly grade: Grade;
  readonly reason: string;
  readonly source: string;
  /** What cannot run cannot be waived; all else can. */
  readonly find: (s: Study) => readonly Found[];
}

export const COMMON = 'common practice, no source';

/** The sections of a kind with their index. */
export const sectionsOf = (s: Study, ...kinds: Section['kind'][]): { section: Section; index: number }[] =>
  s.plan.sections.flatMap((section, index) => (kinds.includes(section.kind) ? [{ section, index }] : []));

export const at = (plan: Plan, section: number, item?: number): Where => {
  const movement = item === undefined ? undefined : plan.sections[section]?.items[item]?.movement;
  return {
    section: plan.sections[section]?.id ?? '',
    ...(item === undefined ? {} : { item }),
    ...(movement === undefined ? {} : { movement }),
  };
};
