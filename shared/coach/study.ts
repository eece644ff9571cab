/**
 * Owns the one look at a plan that all rules share: its intervals, and every piece
 * of work with its movement and its place. Pure; made once for a check.
 */
import type { Library, Movement } from '../movement/movement.ts';
import { type Compiled, compile } from '../plan/compile.ts';
import { type FactsOf, factsOf } from '../plan/facts.ts';
import type { Interval, Side } from '../plan/interval.ts';
import type { Plan, Section } from '../plan/plan.ts';
import { startsMs } from '../plan/totals.ts';
import type { Group } from './groups.ts';

/** One person doing one movement, by the clock. A block and a turn at the stations are taken apart. */
export interface Work {
  readonly section: number;
  readonly item: number;
  readonly round: number;
  readonly movement: Movement;
  readonly startMs: number;
  readonly ms: number;
  readonly side?: Side;
  /** How the section is taught: a block has its changes inside, stations have everybody elsewhere. */
  readonly way: Section['way'];
}

export interface Study {
  readonly plan: Plan;
  readonly library: Library;
  readonly facts: FactsOf;
  readonly group: Group;
  readonly slotS: number | null;
  readonly compiled: Compiled;
  readonly starts: readonly number[];
  readonly lengthMs: number;
  readonly works: readonly Work[];
  /** The works of each section, by its index. */
  readonly worksOf: readonly (readonly Work[])[];
}

/** The facts of a whole library; kept for as long as the library is. */
const known = new WeakMap<Library, FactsOf>();
export function factsOfLibrary(library: Library): FactsOf {
  const facts = known.get(library) ?? Object.fromEntries([...library].map(([id, m]) => [id, factsOf(m)]));
  known.set(library, facts);
  return facts;
}

function worksIn(i: Interval, startMs: number, plan: Plan, library: Library): Work[] {
  if (i.kind !== 'work') return [];
  const section = plan.sections[i.section];
  const way = section?.way ?? 'together';
  const at = (id: string, item: number, from: number, ms: number): Work[] => {
    const movement = library.get(id);
    return movement ? [{ section: i.section, item, round: i.round, movement, startMs: from, ms, way, ...(i.side ? { side: i.side } : {}) }] : [];
  };
  if (i.prompts) {
    const part = i.lengthMs / i.prompts.length;
    return i.prompts.flatMap((id, k) => at(id, k, startMs + k * part, part));
  }
  // Whoever begins at the first station is at the one of this turn.
  if (i.stations) return at(i.stations.movements[i.item] ?? '', i.item, startMs, i.lengthMs);
  return i.movement ? at(i.movement, i.item, startMs, i.lengthMs) : [];
}

export function study(plan: Plan, library: Library, ask: { readonly group?: Group; readonly slotS?: number } = {}): Study {
  const facts = factsOfLibrary(library);
  const group = ask.group ?? plan.group;
  const compiled = compile(group === plan.group ? plan : { ...plan, group }, facts);
  const starts = startsMs(compiled.intervals);
  const works = compiled.intervals.flatMap((i, k) => worksIn(i, starts[k] ?? 0, plan, library));
  const worksOf: Work[][] = plan.sections.map(() => []);
  for (const w of works) worksOf[w.section]?.push(w);
  const last = compiled.intervals.length - 1;
  return {
    plan, library, facts, group, slotS: ask.slotS ?? plan.slot ?? null, compiled, starts, works, worksOf,
    lengthMs: (starts[last] ?? 0) + (compiled.intervals[last]?.lengthMs ?? 0),
  };
}
