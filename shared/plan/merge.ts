/**
 * Owns bringing two versions of one plan together that began as the same: what only
 * one of them changed is taken, what both changed otherwise is a conflict and is named.
 * Movements of a section are one thing: their order has a meaning. Leaves alone who asks.
 */
import type { Plan, Section } from './plan.ts';

export interface Merged {
  /** With mine where both changed the same thing. */
  readonly plan: Plan;
  /** What both changed, in words: "the movements of “Main”". Empty where nothing is lost. */
  readonly conflicts: readonly string[];
  /** What came from theirs, in words. */
  readonly taken: readonly string[];
}

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

const fieldWords: Readonly<Record<string, string>> = {
  name: 'the name', note: 'the note', forCover: 'the note for cover', group: 'who comes', slot: 'the slot', series: 'the series', waived: 'what was waived',
  kind: 'the kind', way: 'the way', rounds: 'the rounds', work: 'the work', rest: 'the rest', setUp: 'the set-up', ends: 'how it ends', target: 'the target',
  sides: 'the sides', lead: 'the lead', show: 'the shows', showEstimate: 'the length of a show', lastRest: 'the last rest', talk: 'the length', items: 'the movements',
};
const kindWords: Record<Section['kind'], string> = { welcome: 'Welcome', 'warm-up': 'Warm-up', main: 'Main', 'cool-down': 'Cool-down', 'clear-up': 'Clear up' };
const nameOf = (s: Section): string => `“${s.name ?? kindWords[s.kind]}”`;

type Fields = Readonly<Record<string, unknown>>;

/** Field by field; `say` hears of each that both changed, `took` of each that came from theirs. */
function fields(base: Fields, mine: Fields, theirs: Fields, left: readonly string[], say: (key: string) => void, took: (key: string) => void): Fields {
  const out: Record<string, unknown> = {};
  for (const key of new Set([...Object.keys(mine), ...Object.keys(theirs), ...Object.keys(base)])) {
    if (left.includes(key)) continue;
    const [b, m, t] = [base[key], mine[key], theirs[key]];
    const value = same(m, b) ? t : m;
    if (!same(m, t)) {
      if (same(m, b)) took(key);
      else if (!same(t, b)) say(key);
    }
    if (value !== undefined) out[key] = value;
  }
  return out;
}

/** Ids in order: mine, with those that only theirs has put after the one they follow there. */
function order(base: readonly string[], mine: readonly string[], theirs: readonly string[]): string[] {
  const first = same(mine, base) ? theirs : mine;
  const other = first === mine ? theirs : mine;
  const out = [...first];
  other.forEach((id, k) => {
    if (out.includes(id)) return;
    const before = other.slice(0, k).reverse().find((x) => out.includes(x));
    out.splice(before === undefined ? 0 : out.indexOf(before) + 1, 0, id);
  });
  return out;
}

/** @param base the version both began with */
export function mergePlans(base: Plan, mine: Plan, theirs: Plan): Merged {
  const conflicts: string[] = [];
  const taken: string[] = [];
  const top = fields(base, mine, theirs, ['sections'], (k) => conflicts.push(fieldWords[k] ?? k), (k) => taken.push(fieldWords[k] ?? k));
  const byId = (p: Plan) => new Map(p.sections.map((s) => [s.id, s]));
  const [b, m, t] = [byId(base), byId(mine), byId(theirs)];
  const sections = order([...b.keys()], [...m.keys()], [...t.keys()]).flatMap((id): Section[] => {
    const [was, own, other] = [b.get(id), m.get(id), t.get(id)];
    if (own && other) {
      const of = (key: string): string => `${fieldWords[key] ?? key} of ${nameOf(own)}`;
      const merged = fields((was ?? {}) as Fields, own, other, [], (k) => conflicts.push(of(k)), (k) => taken.push(of(k)));
      // Talk and movements exclude each other: where the two made different things of it, mine stands whole.
      return [(merged.talk !== undefined && own.items.length + other.items.length > 0 ? own : merged) as Section];
    }
    const there = own ?? other;
    if (!there) return [];
    const by = own ? 'theirs' : 'mine';
    if (!was) {
      if (other) taken.push(`the section ${nameOf(there)}`);
      return [there];
    }
    // One took it out; where the other had changed it meanwhile, it stays and is named.
    if (!same(was, there)) {
      conflicts.push(`the section ${nameOf(there)}, which one took out and the other changed`);
      return [there];
    }
    if (by === 'theirs') taken.push(`that the section ${nameOf(there)} is out`);
    return [];
  });
  const idsOf = (p: Plan): string[] => p.sections.map((s) => s.id);
  const common = idsOf(base).filter((id) => m.has(id) && t.has(id));
  const inOrder = (p: Plan): string[] => idsOf(p).filter((id) => common.includes(id));
  if (!same(inOrder(mine), common) && !same(inOrder(theirs), common) && !same(inOrder(mine), inOrder(theirs))) conflicts.push('the order of the sections');
  return { plan: { ...top, sections: sections.length > 0 ? sections : mine.sections } as Plan, conflicts, taken };
}
