/**
 * Owns the ways to end on time: the exact search over the menu of cuts. A way is
 * one structural choice, one share of the work of main, and seconds squeezed out
 * of shows, set-ups and rests; its loss is a weighted sum, and the least is found.
 * Leaves alone the words (view) and the use of spare time (spare.ts).
 */
import { SHARE_STEP_MS, WAY_CHANGES_MAX } from '../limits.ts';
import type { Interval } from '../plan/interval.ts';
import { after, between, type ServerAt } from '../time/units.ts';
import type { TakeWay, WayKind } from './commands/take-way.ts';
import { editBetween } from './edit.ts';
import { projectedEndAt } from './finish.ts';
import { type Choice, coolDownSpareMs, mainWork, menu, shownBy, type Together } from './menu.ts';
import type { Session } from './session.ts';
import { settle } from './settle.ts';
import { capsOf, fill, type Filled, squeezed } from './squeeze.ts';

/** Loss in hundredths: a second of work is 1,000, so a millisecond is 1. */
const LOSS = { workMs: 1, round: 3_000, movement: 6_000, share: 2_000 } as const;

export interface Way {
  readonly kind: WayKind;
  /** What to send; it names every interval it changes. */
  readonly command: TakeWay;
  /** When the class then ends, if nothing else happens. */
  readonly endAt: ServerAt;
  /** How much it falls short of the time; 0 where it reaches it. */
  readonly shortMs: number;
  /** Loss by the stated weights, in hundredths. */
  readonly loss: number;
  readonly costs: Costs;
}

/** What a way takes, in milliseconds less (less than 0 is more). */
export interface Costs {
  readonly workMs: number;
  readonly showMs: number;
  readonly setUpMs: number;
  readonly restMs: number;
  /** Rounds dropped, of this section. */
  readonly rounds: number;
  /** The movement left out, or null. */
  readonly movement: string | null;
  /** Each side of each work of main is at most this much shorter. */
  readonly shareMs: number;
}

/** One cell of the menu: a structural choice with a share, and the cheapest squeeze on top of it. */
export interface Candidate {
  readonly choice: Choice;
  readonly steps: number;
  readonly filled: Filled;
  readonly loss: number;
  readonly savedMs: number;
  readonly order: number;
}

const sum = <T>(list: readonly T[], ms: (t: T) => number): number => list.reduce((total, t) => total + ms(t), 0);
const workMs = (list: readonly Interval[]): number => sum(list, (i) => (i.kind === 'work' ? i.lengthMs : 0));
const cutAt = (groups: readonly Together[], steps: number): number =>
  sum(groups, (g) => Math.min(steps, g.steps) * g.intervals.length * SHARE_STEP_MS);

/** Every cell of the menu, each with its cheapest squeeze, in the order of the menu. */
export function candidates(s: Session, needMs: number, at: ServerAt): Candidate[] {
  const { index } = s.anchor;
  const endAt = projectedEndAt(s, at);
  const shown = shownBy(s, index);
  const out: Candidate[] = [];
  for (const choice of menu(s, index)) {
    const { list, kind, n, removed } = choice;
    const savedMs = kind === 'none' ? 0 : between(projectedEndAt({ ...s, intervals: list }, at), endAt);
    const structural = kind === 'round' ? n * LOSS.round : kind === 'movement' ? LOSS.movement : 0;
    const lostMs = workMs(removed);
    const groups = mainWork(s, list, index + 1);
    const caps = capsOf(s, list, index, shown, Math.floor(coolDownSpareMs(s, list) / 1_000));
    const most = groups.reduce((max, g) => Math.max(max, g.steps), 0);
    for (let steps = 0; steps <= most; steps += 1) {
      const shareMs = cutAt(groups, steps);
      const filled = fill(caps, Math.max(0, Math.ceil((needMs - savedMs - shareMs) / 1_000)));
      const takenS = Math.max(0, Math.ceil((needMs - savedMs - shareMs) / 1_000)) - filled.shortS;
      out.push({
        choice, steps, filled, order: out.length,
        loss: structural + (lostMs + shareMs) * LOSS.workMs + (steps > 0 ? LOSS.share : 0) + filled.loss,
        savedMs: savedMs + shareMs + takenS * 1_000,
      });
    }
  }
  return out;
}

/** Least loss, then least overshoot, then the order of the menu. */
const better = (a: Candidate, b: Candidate): number => a.loss - b.loss || a.savedMs - b.savedMs || a.order - b.order;

export const kindOf = ({ choice, steps }: Candidate): WayKind =>
  choice.kind === 'none' ? (steps > 0 ? 'shorter' : 'tighter') : choice.kind;

/** The list of a candidate. */
function listOf(s: Session, c: Candidate): Interval[] {
  const { index } = s.anchor;
  const cut = new Map<Interval, number>();
  for (const g of c.steps > 0 ? mainWork(s, c.choice.list, index + 1) : []) {
    for (const i of g.intervals) cut.set(i, Math.min(c.steps, g.steps) * SHARE_STEP_MS);
  }
  const list = squeezed(s, c.choice.list, index, shownBy(s, index), c.filled.taken);
  return list.map((i) => shorter(i, cut.get(i) ?? 0));
}

/** Work with less to do; a count goes down in proportion. */
export function shorter(i: Interval, byMs: number): Interval {
  if (byMs === 0) return i;
  const lengthMs = i.lengthMs - byMs;
  const target = i.target ? { target: { ...i.target, n: Math.max(1, Math.round((i.target.n * lengthMs) / i.lengthMs)) } } : {};
  return { ...i, lengthMs, ...target };
}

function wayOf(s: Session, c: Candidate, needMs: number, at: ServerAt): Way {
  const list = listOf(s, c);
  const { changes, removed } = editBetween(s.intervals, list);
  const lost = (kind: Interval['kind']) => sum(s.intervals, (i) => (i.kind === kind ? i.lengthMs : 0)) - sum(list, (i) => (i.kind === kind ? i.lengthMs : 0));
  const kind = kindOf(c);
  const item = c.choice.kind === 'movement' ? c.choice.removed.find((i) => i.kind === 'work')?.movement : undefined;
  return {
    kind,
    command: { type: 'take-way', kind, changes, removed },
    endAt: after(projectedEndAt(s, at), -c.savedMs),
    shortMs: Math.max(0, needMs - c.savedMs),
    loss: c.loss,
    costs: {
      workMs: lost('work'), showMs: lost('show'), setUpMs: lost('set-up'), restMs: lost('rest'),
      rounds: c.choice.kind === 'round' ? c.choice.n : 0, movement: item ?? null, shareMs: c.steps * SHARE_STEP_MS,
    },
  };
}

/** At most three ways back to the promised time, the least loss first; none where the class is not late. */
export function ways(session: Session, at: ServerAt, most = 3): Way[] {
  const s = settle(session, at);
  const needMs = between(s.promisedAt, projectedEndAt(s, at));
  if (s.over || needMs <= 0) return [];
  const all = candidates(s, needMs, at);
  const reach = all.filter((c) => c.savedMs >= needMs);
  if (reach.length === 0) {
    const [least] = [...all].sort((a, b) => b.savedMs - a.savedMs || better(a, b));
    return least && least.savedMs > 0 ? [wayOf(s, least, needMs, at)].filter(fits) : [];
  }
  const best = new Map<WayKind, Candidate>();
  for (const c of reach) {
    const known = best.get(kindOf(c));
    if (!known || better(c, known) < 0) best.set(kindOf(c), c);
  }
  const offered: Way[] = [];
  for (const c of [...best.values()].sort(better)) {
    const way = wayOf(s, c, needMs, at);
    if (offered.length < most && fits(way) && !offered.some((o) => alike(o, way))) offered.push(way);
  }
  return offered;
}

/** A command that fits a message. */
const fits = ({ command }: Way): boolean => command.changes.length + command.removed.length <= WAY_CHANGES_MAX;

const alike = (a: Way, b: Way): boolean =>
  JSON.stringify([a.command.changes, a.command.removed]) === JSON.stringify([b.command.changes, b.command.removed]);
