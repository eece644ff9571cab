/**
 * Owns what the coach says about a plan: a finding, its grade and its place, and
 * which findings are shown beside what was waived. Leaves alone how they are
 * found (rules/) and in what order the rules are asked (check.ts).
 */
import type { Plan, Waiver } from '../plan/plan.ts';
import type { PlanEdit } from './edit.ts';

/** Worst first. */
export const grades = ['cannot run', 'think again', 'for your information'] as const;
export type Grade = (typeof grades)[number];

/** A place in a plan. Nothing at all is the whole plan. */
export interface Where {
  /** Id of the section. */
  readonly section?: string;
  /** Index of the movement in its section. */
  readonly item?: number;
  /** The movement at that place, so that a waiver still fits when the order changes. */
  readonly movement?: string;
}

/** A change that answers a finding; taken with `applyEdits`. */
export interface Mend {
  /** What a button says: "Halve it". */
  readonly says: string;
  readonly edits: readonly PlanEdit[];
}

export interface Finding {
  /** Id of its rule. */
  readonly id: string;
  readonly grade: Grade;
  readonly where: Where;
  /** What is wrong, where, with numbers, and what to do. Whole sentences. */
  readonly sentence: string;
  /** Why the rule is there. */
  readonly reason: string;
  /** A paper, a guideline, or "common practice, no source". */
  readonly source: string;
  readonly waivable: boolean;
  readonly mend?: Mend;
}

/** What is shown at a time beside all that cannot run. */
export const SHOWN_MOST = 3;

export interface Shown {
  readonly findings: readonly Finding[];
  /** Findings that are neither shown nor waived. */
  readonly more: number;
  readonly waived: readonly { readonly finding: Finding; readonly reason: string }[];
  /** Waivers that no finding needs any more; they may be taken out. */
  readonly idle: readonly Waiver[];
}

const fits = (w: Waiver, f: Finding): boolean =>
  w.rule === f.id && (w.where.section === undefined || w.where.section === f.where.section)
  && (w.where.movement === undefined || w.where.movement === f.where.movement);

/** All that cannot run, and up to three of the rest, worst first; what is waived with a reason is kept apart. */
export function shown(findings: readonly Finding[], waivers: readonly Waiver[] = [], most = SHOWN_MOST): Shown {
  const waived: { finding: Finding; reason: string }[] = [];
  const open: Finding[] = [];
  for (const finding of findings) {
    const waiver = finding.waivable ? waivers.find((w) => fits(w, finding)) : undefined;
    if (waiver) waived.push({ finding, reason: waiver.reason });
    else open.push(finding);
  }
  const stop = open.filter((f) => f.grade === 'cannot run');
  const rest = open.filter((f) => f.grade !== 'cannot run');
  return {
    findings: [...stop, ...rest.slice(0, most)],
    more: Math.max(0, rest.length - most),
    waived,
    idle: waivers.filter((w) => !findings.some((f) => f.waivable && fits(w, f))),
  };
}

/** The waiver that sets this finding aside. */
export const waiverFor = (f: Finding, reason: string): Waiver => ({
  rule: f.id,
  where: {
    ...(f.where.section === undefined ? {} : { section: f.where.section }),
    ...(f.where.movement === undefined ? {} : { movement: f.where.movement }),
  },
  reason,
});

/** The plan with this finding waived; a second waiver of the same place takes the first one's. */
export function waive(plan: Plan, f: Finding, reason: string): Plan {
  const waiver = waiverFor(f, reason);
  const same = (w: Waiver): boolean => JSON.stringify([w.rule, w.where.section, w.where.movement]) === JSON.stringify([waiver.rule, waiver.where.section, waiver.where.movement]);
  return { ...plan, waived: [...(plan.waived ?? []).filter((w) => !same(w)), waiver] };
}
