/**
 * Owns scaling a plan to a slot, before it is kept. Seconds first: the same order of loss as the
 * ways to end on time, a second of show 1, of rest 3, of work 10, a share of work 20. Only where all
 * of them are at their bounds do rounds change, as few as will do. Work changes in steps of 5 s (10 s
 * where sides share it), both sides alike, never below what its movement is worth; a cool-down is never
 * cut below 3 min, and no movement is left out. What is left to the second goes to talk or to a rest.
 */
import { COOL_DOWN_LEAST_MS, PLAN_MOST_S, REST_LEAST_MS, ROUNDS_MAX, WORK_LEAST_MS } from '../limits.ts';
import type { Library } from '../movement/movement.ts';
import { compile } from '../plan/compile.ts';
import { type FactsOf, factsFor } from '../plan/facts.ts';
import { sidesWay } from '../plan/pieces.ts';
import type { Plan, Rounds, Section } from '../plan/plan.ts';
import { totals } from '../plan/totals.ts';
import { factsOfLibrary } from './study.ts';
import { differencesOf } from './differences.ts';
import { long } from './words.ts';

export interface Fitted {
  readonly plan: Plan;
  readonly lengthMs: number;
  /** Whether it ends in the slot to the second. */
  readonly exact: boolean;
  /** What is different, in sentences; empty where nothing had to change. */
  readonly differences: readonly string[];
  /** Why it does not end in the slot to the second. */
  readonly why?: string;
}

/** The most that each section's rounds are changed by, and steps of work. */
const ROUNDS_BY = 4;
const STEPS = 4;
/** Work is made longer by half at the most, and not beyond this (common practice, no source). */
const WORK_MOST_S = 60;
const WORK_MOST_SHARE = 1.5;
const SHOW_LEAST_S = 10;
/** Of a second of work that is not done. */
const WORK_LOSS = 10;
/** So little before the end of the slot is near enough to leave the rounds as they are. */
const NEAR_MS = 5_000;

const countOf = (r: Rounds): number => (typeof r === 'number' ? r : 'seconds' in r ? r.seconds.length : r.reps.length);
function withRounds(r: Rounds, by: number): Rounds | null {
  const n = countOf(r) + by;
  if (n < 1 || n > ROUNDS_MAX) return null;
  if (typeof r === 'number') return n;
  const list = 'seconds' in r ? r.seconds : r.reps;
  const made = by <= 0 ? list.slice(0, n) : [...list, ...Array.from({ length: by }, () => list.at(-1) as number)];
  return 'seconds' in r ? { seconds: made } : { reps: made };
}

/** The section with its rounds and its work changed; null where that leaves the bounds. */
function scaled(section: Section, by: number, steps: number, facts: FactsOf): Section | null {
  const rounds = withRounds(section.rounds, by);
  if (rounds === null) return null;
  if (steps === 0) return { ...section, rounds };
  const halves = section.way === 'together' && section.items.some((i) => ['half'].includes(sidesWay(section, i, facts)));
  const stepS = halves ? 10 : 5;
  const leastOf = (id: string, half: boolean): number => (half ? 2 : 1) * (factsFor(facts, id).leastS ?? WORK_LEAST_MS / 1_000);
  const change = (s: number, leastS: number): number => {
    const next = s + steps * stepS;
    if (steps < 0) return Math.min(s, Math.max(next, leastS));
    return Math.max(s, Math.floor(Math.min(next, s * WORK_MOST_SHARE, WORK_MOST_S * (halves ? 2 : 1))));
  };
  const all = Math.max(...section.items.map((i) => leastOf(i.movement, sidesWay(section, i, facts) === 'half')));
  const items = section.items.map((i) => (i.work === undefined ? i : { ...i, work: change(i.work, leastOf(i.movement, sidesWay(section, i, facts) === 'half')) }));
  return {
    ...section, items,
    rounds: typeof rounds === 'object' && 'seconds' in rounds ? { seconds: rounds.seconds.map((s) => change(s, all)) } : rounds,
    ...(section.work === undefined || section.way === 'follow-me' ? {} : { work: change(section.work, all) }),
  };
}

export function fit(plan: Plan, library: Library, slotS: number): Fitted {
  const facts = factsOfLibrary(library);
  const slotMs = slotS * 1_000;
  const lengthOf = (p: Plan): number => totals(compile(p, facts).intervals).lengthMs;
  const wanted: Plan = { ...plan, slot: Math.min(Math.max(60, Math.round(slotS)), 4 * 3_600) };
  const here = lengthOf(plan);
  if (here === slotMs) return { plan: wanted, lengthMs: here, exact: true, differences: [] };
  const growing = here < slotMs;
  let best: { plan: Plan; lengthMs: number; loss: number } | null = null;
  const workOf = (p: Plan): number => totals(compile(p, facts).intervals).byKind.work;
  const workHere = workOf(plan);
  const lost = (c: Candidate): number => c.loss + (growing ? 0 : (Math.max(0, workHere - workOf(c.plan)) / 1_000) * WORK_LOSS);
  const all = [...candidates(wanted, facts, growing)].map((c) => ({ ...c, loss: lost(c) })).sort((a, b) => a.rounds - b.rounds || a.loss - b.loss);
  let rounds = 0;
  for (const candidate of all) {
    // Rounds are left alone as long as seconds will do.
    if (candidate.rounds > rounds && best && slotMs - best.lengthMs >= 0 && slotMs - best.lengthMs <= NEAR_MS) break;
    rounds = candidate.rounds;
    if (best && candidate.loss >= best.loss) continue;
    const ends = levers(candidate.plan);
    const reach = [ends.reduce((p, l) => put(p, l, l.least), candidate.plan), ends.reduce((p, l) => put(p, l, l.most), candidate.plan)].map(lengthOf);
    const missed = Math.max(0, (reach[0] as number) - slotMs, slotMs - (reach[1] as number));
    // A millisecond over the slot costs more than anything; a second left over costs as much as is lost by a longer rest.
    const bound = candidate.loss + (missed === 0 ? 0 : (reach[0] as number) > slotMs ? 1e6 + missed : (missed / 1_000) * 4);
    if (best && bound >= best.loss) continue;
    const filled = fill(candidate.plan, ends, slotMs, lengthOf);
    const off = slotMs - filled.lengthMs;
    const loss = candidate.loss + filled.loss + (off < 0 ? 1e6 - off : (off / 1_000) * 4);
    if (!best || loss < best.loss) best = { plan: filled.plan, lengthMs: filled.lengthMs, loss };
  }
  const made = best ?? { plan: wanted, lengthMs: here, loss: 0 };
  const off = slotMs - made.lengthMs;
  const why = off === 0 ? undefined : off < 0
    ? `It is still ${long(-off)} too long: rounds, work, rests and shows are at their least, and a cool-down is not cut below ${long(COOL_DOWN_LEAST_MS)}. Take a movement out.`
    : `It ends ${long(off)} early: nothing in it can be made longer by so little, or by so much. Add a movement or a round, or leave the time for people.`;
  return { plan: made.plan, lengthMs: made.lengthMs, exact: off === 0, differences: differencesOf(plan, made.plan, library), ...(why ? { why } : {}) };
}

/** Every choice of rounds and of steps of work for the main sections, the same share in all. */
interface Candidate { readonly plan: Plan; readonly rounds: number; readonly loss: number }

function* candidates(plan: Plan, facts: FactsOf, growing: boolean): Generator<Candidate> {
  const mains = plan.sections.flatMap((s, k) => (s.kind === 'main' && s.items.length > 0 ? [k] : [])).slice(-3);
  const sign = growing ? 1 : -1;
  const most = mains.length > 2 ? 2 : ROUNDS_BY;
  const choices: number[][] = mains.reduce<number[][]>((all) => all.flatMap((c) => Array.from({ length: most + 1 }, (_, by) => [...c, by * sign])), [[]]);
  for (const choice of choices) {
    const rounds = choice.reduce((a, b) => a + Math.abs(b), 0);
    // A share against the rounds gives fine steps: a round less and a little more work.
    for (let steps = rounds === 0 && growing ? 0 : -STEPS; steps <= (rounds === 0 && !growing ? 0 : STEPS); steps += 1) {
      const sections = plan.sections.map((s, k): Section | null => {
        const m = mains.indexOf(k);
        if (s.kind !== 'main' || s.items.length === 0) return s;
        return scaled(s, m < 0 ? 0 : (choice[m] ?? 0), steps, facts);
      });
      if (sections.some((s) => s === null)) continue;
      yield { plan: { ...plan, sections: sections as Section[] }, rounds, loss: rounds * 30 + (steps === 0 ? 0 : 20 + 10 * Math.abs(steps)) };
    }
  }
}

interface Lever { section: number; least: number; most: number; loss: number; step: number; value: number; set: (s: Section, to: number) => Section }

const put = (plan: Plan, { section, set }: Lever, to: number): Plan => ({ ...plan, sections: plan.sections.map((s, k) => (k === section ? set(s, to) : s)) });

/** What may give or take seconds, cheapest first: shows, talk, the blocks at both ends, rests. */
function levers(plan: Plan): Lever[] {
  return plan.sections.flatMap((s, section): Lever[] => {
    const lever = (value: number, least: number, most: number, loss: number, step: number, set: Lever['set']): Lever =>
      ({ section, value, least: Math.min(least, value), most: Math.min(PLAN_MOST_S, Math.max(most, value)), loss, step, set });
    const list: Lever[] = [];
    if (s.items.length > 0 && s.kind === 'main') list.push(lever(s.showEstimate, SHOW_LEAST_S, s.showEstimate + 5, 1, 5, (x, showEstimate) => ({ ...x, showEstimate })));
    if (s.talk !== undefined) list.push(lever(s.talk, Math.max(30, s.talk / 2), s.talk + 60, 1.5, 15, (x, talk) => ({ ...x, talk })));
    if (s.way === 'follow-me' && s.work !== undefined && s.kind !== 'main') {
      list.push(lever(s.work, s.kind === 'cool-down' ? COOL_DOWN_LEAST_MS / 1_000 : 240, 600, 2, 15, (x, work) => ({ ...x, work })));
    }
    if (s.rest !== undefined && s.items.length > 0 && s.kind === 'main') list.push(lever(s.rest, REST_LEAST_MS / 1_000, Math.max(30, s.rest * 1.5), 3, 5, (x, rest) => ({ ...x, rest })));
    return list;
  }).sort((a, b) => a.loss - b.loss);
}

/** Moves the levers in their steps until the plan is as near the slot as they bring it, then talk or a block to the second. */
function fill(from: Plan, all: readonly Lever[], slotMs: number, lengthOf: (p: Plan) => number): { plan: Plan; lengthMs: number; loss: number } {
  let plan = from;
  let lengthMs = lengthOf(plan);
  let loss = 0;
  const values = new Map(all.map((l) => [l, l.value]));
  const move = (lever: Lever, step: number): void => {
    const off = slotMs - lengthMs;
    const value = values.get(lever) as number;
    if (off === 0) return;
    const toward = off > 0 ? 1 : -1;
    const probe = value + toward * step;
    if (probe < lever.least || probe > lever.most) return;
    const perStep = Math.abs(lengthOf(put(plan, lever, probe)) - lengthMs);
    if (perStep === 0) return;
    // Never past the slot; from above, down to it or just below it.
    const steps = off > 0 ? Math.floor(off / perStep) : Math.ceil(-off / perStep);
    const room = Math.floor((off > 0 ? lever.most - value : value - lever.least) / step + 1e-9);
    for (let n = Math.min(steps, room); n > 0; n -= 1) {
      const to = Math.round((value + toward * n * step) * 10) / 10;
      const next = put(plan, lever, to);
      const ms = lengthOf(next);
      if (off > 0 && ms > slotMs) continue;
      loss += (Math.abs(ms - lengthMs) / 1_000) * lever.loss;
      values.set(lever, to);
      plan = next;
      lengthMs = ms;
      return;
    }
  };
  for (const lever of all) move(lever, lever.step);
  for (const lever of all.toReversed()) if (lever.step === 15) move(lever, 1);
  for (const lever of all.toReversed()) if (lever.step === 15) move(lever, 0.1);
  return { plan, lengthMs, loss };
}
