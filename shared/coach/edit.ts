/**
 * Owns the few changes that the coach proposes to a plan: mends of a finding,
 * steps of a series, another order. Each is data, so that it can be shown, taken
 * or left. Leaves alone why they are proposed.
 */
import { type Item, type Plan, planSchema, type Rounds, type Section } from '../plan/plan.ts';

/** Fields of a section or of one of its movements that the coach touches; null takes the field out. */
export type Fields = {
  readonly [K in 'work' | 'rest' | 'setUp']?: number | null;
} & { readonly sides?: Section['sides'] | null; readonly lead?: Section['lead'] | null };
/** Fields that only a section has. */
export type SectionFields = Fields & { readonly talk?: number; readonly showEstimate?: number; readonly show?: Section['show'] | null };

export type PlanEdit =
  | { readonly do: 'set'; readonly section: string; readonly fields: SectionFields }
  | { readonly do: 'set-item'; readonly section: string; readonly item: number; readonly fields: Fields & { readonly show?: boolean | null } }
  | { readonly do: 'rounds'; readonly section: string; readonly rounds: Rounds }
  | { readonly do: 'movement'; readonly section: string; readonly item: number; readonly movement: string }
  /** Indices of the movements as they stand now, in the new order. */
  | { readonly do: 'order'; readonly section: string; readonly order: readonly number[] }
  | { readonly do: 'remove'; readonly section: string; readonly item: number }
  /** Puts a section before the one that stands at this index. */
  | { readonly do: 'add-section'; readonly at: number; readonly section: Section }
  | { readonly do: 'slot'; readonly slot: number };

const withFields = <T extends object>(into: T, fields: object): T =>
  Object.fromEntries(Object.entries({ ...into, ...fields }).filter(([, v]) => v !== null && v !== undefined)) as T;

function one(plan: Plan, edit: PlanEdit): Plan {
  const section = (id: string, change: (s: Section) => Section): Plan =>
    ({ ...plan, sections: plan.sections.map((s) => (s.id === id ? change(s) : s)) });
  const item = (s: Section, index: number, change: (i: Item) => Item): Section =>
    ({ ...s, items: s.items.map((i, k) => (k === index ? change(i) : i)) });
  switch (edit.do) {
    case 'set': return section(edit.section, (s) => withFields(s, edit.fields));
    case 'set-item': return section(edit.section, (s) => item(s, edit.item, (i) => withFields(i, edit.fields)));
    case 'rounds': return section(edit.section, (s) => ({ ...s, rounds: edit.rounds }));
    case 'movement': return section(edit.section, (s) => item(s, edit.item, (i) => ({ ...i, movement: edit.movement })));
    case 'order': return section(edit.section, (s) => ({ ...s, items: edit.order.flatMap((k) => s.items[k] ?? []) }));
    case 'remove': return section(edit.section, (s) => ({ ...s, items: s.items.filter((_, k) => k !== edit.item) }));
    case 'add-section': return { ...plan, sections: [...plan.sections.slice(0, edit.at), edit.section, ...plan.sections.slice(edit.at)] };
    case 'slot': return { ...plan, slot: edit.slot };
  }
}

/** The plan with these changes, in their order. Throws where one leaves no plan: that is our mistake. */
export const applyEdits = (plan: Plan, edits: readonly PlanEdit[]): Plan => planSchema.parse(edits.reduce(one, plan));
