/**
 * Owns the search for an order with fewer changes between floor and standing. Up
 * to ten movements in a section it looks at every order (Held and Karp's way over
 * subsets, J SIAM 1962; 10:196-210); above that it puts all of the floor
 * together and says that it did not look at every order. A warm-up keeps its order: it builds up.
 */
import { type Library, onFloor, type Position } from '../movement/movement.ts';
import { factsFor } from '../plan/facts.ts';
import type { Plan, Section } from '../plan/plan.ts';
import type { PlanEdit } from './edit.ts';
import { type Study, study } from './study.ts';
import { and, many, sectionWords } from './words.ts';

export interface BetterOrder {
  readonly edits: readonly PlanEdit[];
  /** Changes between floor and standing in the whole class, as planned and with the new order. */
  readonly from: number;
  readonly to: number;
  /** Whether no order of these sections has fewer. */
  readonly exact: boolean;
  readonly sentence: string;
}

/** More than this and the number of orders is too large for an answer while somebody types. */
export const EXACT_MOST = 10;

interface Place { readonly start: Position; readonly end: Position; readonly area: string }

/** Changes between floor and standing, in the order in which a person goes through the class. */
export function floorChanges(s: Pick<Study, 'compiled' | 'facts'>): number {
  let down = false;
  let changes = 0;
  const go = (position: Position): void => {
    if (onFloor(position) !== down) changes += 1;
    down = onFloor(position);
  };
  for (const i of s.compiled.intervals) {
    if (i.kind === 'talk') go('standing');
    if (i.kind !== 'work') continue;
    const ids = i.prompts ?? (i.stations ? [i.stations.movements[i.item] ?? ''] : i.movement ? [i.movement] : []);
    for (const id of ids) {
      const f = factsFor(s.facts, id);
      go(f.start);
      go(f.end);
    }
  }
  return changes;
}

/** Weights that keep their order: floor and standing, then other changes of position, then the same area twice, then how far a movement is moved. */
const FLOOR = 1e12;
const POSITION = 1e8;
const AREA = 1e4;

const step = (from: Position, to: Position): number => (onFloor(from) === onFloor(to) ? (from === to ? 0 : POSITION) : FLOOR);
const between = (a: Place, b: Place): number => step(a.end, b.start) + (a.area === b.area ? AREA : 0);

interface Setting { readonly places: readonly Place[]; readonly before: Position; readonly after: Position; readonly rounds: number }

/** What one order costs: the way in, all rounds, the way out. */
export function costOf({ places, before, after, rounds }: Setting, order: readonly number[]): number {
  const at = (k: number): Place => places[order[k] as number] as Place;
  const n = order.length;
  let cost = step(before, at(0).start) + step(at(n - 1).end, after) + (rounds - 1) * between(at(n - 1), at(0));
  for (let k = 0; k < n; k += 1) {
    if (k + 1 < n) cost += rounds * between(at(k), at(k + 1));
    cost += rounds * step(at(k).start, at(k).end) + Math.abs((order[k] as number) - k);
  }
  return cost;
}

/** The best order of all, by subsets. */
export function bestOrder(setting: Setting): number[] {
  const { places, before, after, rounds } = setting;
  const n = places.length;
  const full = 2 ** n - 1;
  let best: { cost: number; order: number[] } = { cost: Number.POSITIVE_INFINITY, order: [] };
  const size = Uint8Array.from({ length: full + 1 }, (_, set) => bits(set));
  const steps = Float64Array.from({ length: n * n }, (_, k) => rounds * between(places[Math.floor(k / n)] as Place, places[k % n] as Place));
  const cost = new Float64Array((full + 1) * n);
  const from = new Int8Array((full + 1) * n);
  for (let first = 0; first < n; first += 1) {
    cost.fill(Number.POSITIVE_INFINITY);
    from.fill(-1);
    cost[2 ** first * n + first] = step(before, (places[first] as Place).start) + first;
    for (let set = 1; set <= full; set += 1) {
      if (!(set & (1 << first))) continue;
      for (let last = 0; last < n; last += 1) {
        const here = cost[set * n + last] as number;
        if (here === Number.POSITIVE_INFINITY) continue;
        for (let next = 0; next < n; next += 1) {
          if (set & (1 << next)) continue;
          const there = (set | (1 << next)) * n + next;
          const sum = here + (steps[last * n + next] as number) + Math.abs(next - (size[set] as number));
          if (sum < (cost[there] as number)) { cost[there] = sum; from[there] = last; }
        }
      }
    }
    for (let last = 0; last < n; last += 1) {
      const end = places[last] as Place;
      const sum = (cost[full * n + last] as number) + step(end.end, after) + (rounds - 1) * between(end, places[first] as Place);
      if (sum < best.cost) best = { cost: sum, order: back(from, full, last, n) };
    }
  }
  return best.order;
}

function bits(set: number): number {
  let n = 0;
  for (let rest = set; rest > 0; rest &= rest - 1) n += 1;
  return n;
}

function back(from: Int8Array, full: number, end: number, n: number): number[] {
  const order: number[] = [];
  let set = full;
  let last = end;
  while (last >= 0) {
    order.unshift(last);
    const before = from[set * n + last] as number;
    set &= ~(1 << last);
    last = before;
  }
  return order;
}

/** A good order of many: as they stand, but all of the floor behind all of standing, or before it. */
function goodOrder(setting: Setting): number[] {
  const all = setting.places.map((_, k) => k);
  const low = (k: number): boolean => onFloor((setting.places[k] as Place).start);
  const tried = [all, [...all.filter((k) => !low(k)), ...all.filter(low)], [...all.filter(low), ...all.filter((k) => !low(k))]];
  return tried.toSorted((a, b) => costOf(setting, a) - costOf(setting, b))[0] as number[];
}

const roundsOf = ({ rounds }: Section): number => (typeof rounds === 'number' ? rounds : 'seconds' in rounds ? rounds.seconds.length : rounds.reps.length);

/** An order with fewer changes between floor and standing; null where none is found. */
export function betterOrderOf(s: Study): BetterOrder | null {
  const { plan, library, facts } = s;
  const place = (id: string): Place => ({ start: factsFor(facts, id).start, end: factsFor(facts, id).end, area: library.get(id)?.areas[0] ?? id });
  const ends = plan.sections.map((x) => x.items.map((i) => place(i.movement)));
  const edits: PlanEdit[] = [];
  const names: string[] = [];
  let exact = true;
  let saved = 0;
  plan.sections.forEach((section, k) => {
    if ((section.kind !== 'main' && section.kind !== 'cool-down') || section.items.length < 2) return;
    const setting: Setting = {
      places: ends[k] as Place[], rounds: roundsOf(section),
      before: ends[k - 1]?.at(-1)?.end ?? 'standing', after: ends[k + 1]?.at(0)?.start ?? 'standing',
    };
    const proven = section.items.length <= EXACT_MOST;
    const order = proven ? bestOrder(setting) : goodOrder(setting);
    const as = section.items.map((_, i) => i);
    const gain = Math.floor(costOf(setting, as) / FLOOR) - Math.floor(costOf(setting, order) / FLOOR);
    if (gain <= 0) return;
    exact = exact && proven;
    saved += gain;
    edits.push({ do: 'order', section: section.id, order });
    ends[k] = order.map((i) => (ends[k] as Place[])[i] as Place);
    names.push(`${sectionWords(section)}: ${order.map((i) => factsFor(facts, section.items[i]?.movement ?? '').name.toLowerCase()).join(', ')}`);
  });
  if (edits.length === 0) return null;
  const from = floorChanges(s);
  const to = from - saved;
  return {
    edits, from, to, exact,
    sentence: `${and(names)}. That makes ${many(to, 'change')} between floor and standing instead of ${from}${exact ? '; no order has fewer' : '; the best that was found, not every order was looked at'}.`,
  };
}


export const betterOrder = (plan: Plan, library: Library): BetterOrder | null => betterOrderOf(study(plan, library));
