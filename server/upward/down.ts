/**
 * Owns what a studio's own server takes from the chain: plans, the movements that they need, its timetable. The chain is
 * asked what is new; what was met is remembered (from-chain.json), so that both sides may change a plan while the line is
 * down and neither loses anything. All of it may be done twice. Leaves alone when it is asked (upward.ts).
 */
import { z } from 'zod';
import type { ServerAt } from '../../shared/time/units.ts';
import { type AskPlans, type ConflictsHere, HOUSE_SPEAKS, type PlansGiven, type Settle } from '../../shared/wire/house.ts';
import { revisionSchema } from '../../shared/wire/plans.ts';
import { inTurn, type StudioFiles } from '../files/files.ts';
import { same } from '../../shared/plan/merge.ts';
import type { Kept } from '../people/kept.ts';
import { type Plans, revisionOf } from '../plans/keep.ts';
import type { Ask } from './ask.ts';
import { Hindered } from './hindered.ts';
import { linesStandSchema, linesThatWait, noLinesYet, takeLines } from './take-lines.ts';
import { movementStandsSchema, takeMovement } from './take-movements.ts';
import { dropPlan, hereOf, planStandsSchema, settlePlan, takePlan, waits } from './take-plans.ts';

export const downFileSchema = z.strictObject({
  chain: z.string(),
  /** What was answered when all of it was taken, and when that was so last. */
  seen: revisionSchema.nullable(), plansAt: z.number().nullable(),
  plans: z.record(z.string(), planStandsSchema),
  movements: z.record(z.string(), movementStandsSchema),
  lines: linesStandSchema.nullable(),
});
export type DownFile = z.infer<typeof downFileSchema>;
export const noDownFile: DownFile = { chain: '', seen: null, plansAt: null, plans: {}, movements: {}, lines: null };

export interface DownNeeds {
  readonly chain: string;
  readonly version: string;
  readonly ask: Pick<Ask, 'plans'>;
  readonly files: StudioFiles;
  readonly plans: Plans;
  readonly file: Kept<DownFile>;
  readonly now: () => ServerAt;
}

export interface Down {
  /** Takes what is new. Rejects with Hindered, or as the files do. */
  readonly pass: () => Promise<void>;
  readonly plansAt: () => number | null;
  readonly conflicts: () => Promise<ConflictsHere>;
  /** A sentence where it is not as somebody saw it; null where it was done. */
  readonly settle: (chosen: Settle) => Promise<string | null>;
  /** What could not be taken, in sentences. */
  readonly troubles: () => readonly string[];
}

/** A house that was away for long takes what is new in so many messages at most; the rest comes next time. */
const MESSAGES_MAX = 200;
const MEANWHILE = 'This is no longer as it was shown: the chain or somebody here changed it. Look again, then choose.';

export function openDown({ chain, version, ask, files, plans, file, now }: DownNeeds): Down {
  const turn = inTurn();
  const hello = { speaks: HOUSE_SPEAKS, version } as const;
  let troubles: string[] = [];
  /** What is known of another chain says nothing of this one. */
  const known = (): DownFile => (file.now().chain === chain ? file.now() : { ...noDownFile, chain });
  async function keep(more: Partial<DownFile>): Promise<void> {
    const next = { ...known(), ...more };
    if (!same(next, file.now()) && !(await file.keep(next))) throw new Hindered('What came from the chain could not be written down. Tell the studio that its disk is full or may not be written.');
  }

  async function conflicts(): Promise<ConflictsHere> {
    const { plans: stand, lines } = known();
    const found = await Promise.all(Object.values(stand).map(async (s) => (same(s.base, s.theirs) ? null : waits(s, await hereOf(plans, s.theirs.id)))));
    return { plans: found.flatMap((c) => c ?? []), lines: lines ? [...await linesThatWait(files, lines)] : [] };
  }

  /** @returns whether something of it came in, and whether all did */
  async function take(news: NonNullable<PlansGiven['news']>): Promise<{ readonly more: boolean; readonly all: boolean }> {
    const say = (sentence: string): void => { troubles.push(sentence); };
    const before = known();
    let [more, all] = [false, news.whole];
    const movements: DownFile['movements'] = {};
    for (const { id, revision, movement } of news.movements) {
      const stood = before.movements[id] ?? null;
      const stands = movement ? await takeMovement(files, movement, stood, say) : stood;
      if (stands) movements[id] = stands;
      if (stands?.seen !== revision) all = false;
      else if (movement) more = true;
      if (movement && stands?.written === null) say(`The movement “${movement.name}” is otherwise here than at the chain. It stays as it is here.`);
    }
    await keep({ movements });
    const stand: DownFile['plans'] = {};
    for (const { id, revision, plan } of news.plans) {
      const stood = before.plans[id] ?? null;
      const theirs = plan ?? stood?.theirs;
      const stands = theirs && (plan || !same(stood?.base, theirs)) ? await takePlan(plans, theirs, stood, say) : stood;
      if (stands) stand[id] = stands;
      if (!stands || revisionOf(stands.theirs) !== revision) all = false;
      else if (plan) more = true;
    }
    // Nothing goes before the chain has said all that it has.
    for (const [id, stood] of Object.entries(before.plans)) if (!news.plans.some((p) => p.id === id)) await dropPlan(plans, stood);
    await keep({ plans: stand });
    if (news.timetable) {
      const lines = await takeLines(files, news.timetable, before.lines ?? noLinesYet, say);
      if (lines) await keep({ lines });
      else all = false;
    }
    return { more, all };
  }

  /** What was changed here may have settled what waited. */
  async function again(): Promise<void> {
    const { plans: stand, lines } = known();
    const next: DownFile['plans'] = {};
    for (const [id, s] of Object.entries(stand)) next[id] = same(s.base, s.theirs) ? s : await takePlan(plans, s.theirs, s, () => {}) ?? s;
    const nextLines = lines && !same(lines.base, lines.theirs) ? await takeLines(files, lines.theirs, lines, () => {}) : lines;
    await keep({ plans: next, lines: nextLines ?? lines });
  }

  async function pass(): Promise<void> {
    await again();
    for (let n = 0; n < MESSAGES_MAX; n += 1) {
      const { seen, plans: stand, movements } = known();
      const waiting = await conflicts();
      const { revision, news } = await ask.plans({
        ...hello, seen, conflicts: waiting.plans.length + waiting.lines.length,
        plans: Object.entries(stand).map(([id, s]) => ({ id, revision: revisionOf(s.theirs) })),
        movements: Object.entries(movements).map(([id, m]) => ({ id, revision: m.seen })),
      } satisfies AskPlans);
      if (news === null) return keep({ plansAt: now() });
      troubles = [];
      const { more, all } = await take(news);
      await keep({ seen: all ? revision : null });
      if (!all && !more) return;
    }
  }

  async function settle(chosen: Settle): Promise<string | null> {
    const { plans: stand, lines } = known();
    if (chosen.kind === 'plan') {
      const stood = stand[chosen.theirs.id];
      const stands = stood && await settlePlan(plans, stood, chosen);
      if (!stands) return MEANWHILE;
      await keep({ plans: { ...stand, [chosen.theirs.id]: stands } });
      return null;
    }
    let said: string | null = null;
    const stands = lines && await takeLines(files, lines.theirs, lines, (sentence) => { said = sentence; }, chosen);
    if (!stands) return said ?? MEANWHILE;
    await keep({ lines: stands });
    return null;
  }

  return { pass: () => turn(pass), settle: (chosen) => turn(() => settle(chosen)), conflicts, plansAt: () => known().plansAt, troubles: () => troubles };
}
