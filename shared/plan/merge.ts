/**
 * Owns bringing two versions of one plan together that began as the same, field by field:
 * what only one of them changed is taken, what both changed otherwise is a conflict that
 * names both values. Sections are matched by their ids. Leaves alone who asks.
 */
import { type Chosen, type Conflict, fieldName, type Fields, quoted, same, Tally } from './merge-fields.ts';
import { mergeItems } from './merge-items.ts';
import { type Plan, planSchema, type Section, sectionSchema, type Waiver } from './plan.ts';

export type { Chosen, Conflict, Whose } from './merge-fields.ts';
export { same } from './merge-fields.ts';

export interface Merged {
  /** With mine where both changed the same thing and nobody chose; a section that one took out and the other changed stays. */
  readonly plan: Plan;
  /** What both changed, chosen or not. Empty where nothing has to be asked. */
  readonly conflicts: readonly Conflict[];
  /** What came from theirs, in words. */
  readonly taken: readonly string[];
}

/** Nothing is left to be asked. */
export const settled = (conflicts: readonly Conflict[], chosen: Chosen): boolean => conflicts.every((c) => chosen[c.at] !== undefined);

/** Ids in order: the order of the one who moved sections, with those that only the other has put after the one they follow there. */
function order(mine: readonly string[], theirs: readonly string[], mineFirst: boolean): string[] {
  const [first, other] = mineFirst ? [mine, theirs] : [theirs, mine];
  const out = [...first];
  other.forEach((id, k) => {
    if (out.includes(id)) return;
    const before = other.slice(0, k).reverse().find((x) => out.includes(x));
    out.splice(before === undefined ? 0 : out.indexOf(before) + 1, 0, id);
  });
  return out;
}

const waiverKey = ({ rule, where }: Waiver): string => JSON.stringify([rule, where.section ?? null, where.movement ?? null]);
/** Waivers are a set: each is one rule at one place. */
function mergeWaived(tally: Tally, base: Plan['waived'], mine: Plan['waived'], theirs: Plan['waived']): Plan['waived'] {
  const place = { at: 'waived', where: fieldName('waived'), field: 'waived' };
  if (same(mine, theirs) || same(theirs, base) || same(mine, base)) return tally.pick(place, base, mine, theirs);
  const byKey = (list: Plan['waived']): Fields => Object.fromEntries((list ?? []).map((w) => [waiverKey(w), w]));
  const merged = tally.fields(byKey(base), byKey(mine), byKey(theirs), [], (key) => ({ ...place, at: `waived/${key}` }));
  return Object.values(merged) as Waiver[];
}

const valid = (s: Section): boolean => sectionSchema.safeParse(s).success;

function mergeSection(tally: Tally, was: Section | undefined, own: Section, other: Section): Section {
  const placeOf = (field: string) => ({ at: `${own.id}/${field}`, where: `${fieldName(field)} of ${quoted(own)}`, field, section: own });
  const merged = {
    ...tally.fields((was ?? {}) as Fields, own, other, ['items'], placeOf),
    items: mergeItems(tally, own, was?.items ?? [], own.items, other.items),
  } as Section;
  const both = merged.talk !== undefined && merged.items.length > 0;
  if (valid(merged) || (!both && !(valid(own) && valid(other)))) return merged;
  // Each is a section by itself and the two are none together, as talk of one and movements of the other.
  return tally.ask({ at: `${own.id}/whole`, where: `${quoted(own)} as a whole`, field: 'whole', section: own }, was, own, other, own);
}

/** One has it and the other has not. Null where it is out. */
function oneSided(tally: Tally, id: string, was: Section | undefined, own: Section | undefined, other: Section | undefined): Section | null {
  const there = own ?? other;
  if (!there) return null;
  if (!was) {
    if (other) tally.took(`the section ${quoted(there)}`);
    return there;
  }
  if (same(was, there)) {
    if (own) tally.took(`that the section ${quoted(there)} is out`);
    return null;
  }
  const place = { at: id, where: `the section ${quoted(there)}, which one took out and the other changed`, field: 'section', section: there };
  return tally.ask<Section | undefined>(place, was, own, other, there) ?? null;
}

/** @param base the version both began with @param chosen what somebody took where both changed the same */
export function mergePlans(base: Plan, mine: Plan, theirs: Plan, chosen: Chosen = {}): Merged {
  const tally = new Tally(chosen);
  const top = tally.fields(base, mine, theirs, ['sections', 'waived'], (field) => ({ at: field, where: fieldName(field), field }));
  const waived = mergeWaived(tally, base.waived, mine.waived, theirs.waived);
  const byId = (p: Plan) => new Map(p.sections.map((s) => [s.id, s]));
  const [b, m, t] = [byId(base), byId(mine), byId(theirs)];
  const idsOf = (p: Plan): string[] => p.sections.map((s) => s.id);

  const common = idsOf(base).filter((id) => m.has(id) && t.has(id));
  const inOrder = (p: Plan): string[] => idsOf(p).filter((id) => common.includes(id));
  const [own, other] = [inOrder(mine), inOrder(theirs)];
  const moved = tally.pick({ at: 'order', where: 'the order of the sections', field: 'order', sections: mine.sections }, common, own, other);

  const sections = order(idsOf(mine), idsOf(theirs), same(own, other) || same(moved, own)).flatMap((id): Section[] => {
    const [was, mineHas, theirsHas] = [b.get(id), m.get(id), t.get(id)];
    if (mineHas && theirsHas) return [mergeSection(tally, was, mineHas, theirsHas)];
    const there = oneSided(tally, id, was, mineHas, theirsHas);
    return there ? [there] : [];
  });
  const merged = { ...top, ...(waived === undefined ? {} : { waived }), sections } as Plan;
  const fits = (p: Plan): boolean => planSchema.safeParse(p).success;
  const done = (plan: Plan): Merged => ({ plan, conflicts: tally.conflicts, taken: tally.taken });
  if (fits(merged)) return done(merged);
  // Each is a plan by itself and the two are none together: nothing is left, or too much.
  if (fits(mine) && fits(theirs)) return done(tally.ask({ at: 'whole', where: 'the plan as a whole', field: 'whole' }, base, mine, theirs, mine));
  return done(sections.length > 0 ? merged : { ...merged, sections: mine.sections });
}
