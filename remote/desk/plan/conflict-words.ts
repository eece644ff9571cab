/** Owns saying what two changed otherwise: each value as the editor calls it. */
import { groupWords } from '../../../shared/coach/groups.ts';
import { leverWords } from '../../../shared/coach/next.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import { type Conflict, same } from '../../../shared/plan/merge.ts';
import { fieldName } from '../../../shared/plan/merge-fields.ts';
import type { Item, Plan, Rounds, Section, Series, Waiver } from '../../../shared/plan/plan.ts';
import { sectionName } from '../../../shared/view/words.ts';
import { sectionWords } from '../../common/plan-words.ts';
import { kindWords, leadList, showList, sidesList, wayWords, workWords } from './words.ts';

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
const said = (list: readonly (readonly [string, string])[], value: unknown): string => list.find(([key]) => key === value)?.[1] ?? String(value);
const seconds = (s: unknown): string => (typeof s === 'number' && s >= 60 && s % 60 === 0 ? `${s / 60} min` : `${String(s)} s`);
const rounds = (r: Rounds): string => (typeof r === 'number' ? (r === 1 ? 'one round' : `${r} rounds`) : 'seconds' in r ? `a ladder of ${r.seconds.join(', ')} s` : `a ladder of ${r.reps.join(', ')} reps`);

/** "Squat 40 s, Reverse lunge 15 s a side": moves in a row. */
function itemsWords(items: readonly Item[], section: Section | undefined, library: Library): string {
  if (items.length === 0) return 'no move';
  return items.map((item) => {
    const movement = library.get(item.movement);
    const own = section && Object.keys(item).length > 1 ? workWords(item, section, movement) : '';
    return [movement?.name ?? item.movement, own, item.rest === undefined ? '' : `rest ${item.rest} s`].filter(Boolean).join(' ');
  }).join(', ');
}

function wholeWords(s: Section, library: Library): string {
  if (s.talk !== undefined) return `${sectionName(s)}: talk, about ${seconds(s.talk)}`;
  return `${[sectionName(s), sectionWords(s)].filter(Boolean).join(', ')}: ${itemsWords(s.items, s, library)}`;
}

/** "Warm-up, Main (Squat), Main (Plank)": sections by their names; those of one name also by what they begin with. */
function orderWords(ids: readonly string[], sections: readonly Section[], library: Library): string {
  const named = new Map(sections.map((s) => [s.id, { name: sectionName(s), first: s.items[0] && (library.get(s.items[0].movement)?.name ?? s.items[0].movement) }]));
  const of = (name: string): number => [...named.values()].filter((n) => n.name === name).length;
  return ids.map((id) => {
    const s = named.get(id);
    return s ? `${s.name}${of(s.name) > 1 && s.first ? ` (${s.first})` : ''}` : 'a section';
  }).join(', ');
}

/** What one version says at the place of a conflict. */
function valueWords(c: Conflict, value: unknown, library: Library): string {
  if (value === undefined) return c.field === 'section' ? 'takes it out' : c.field === 'note' || c.field === 'forCover' || c.field === 'name' ? 'nothing' : c.movement ? 'as the section says' : 'not said';
  switch (c.field) {
    case 'section': return `keeps it: ${wholeWords(value as Section, library)}`;
    case 'whole': return 'sections' in (value as object) ? (value as Plan).sections.map((s) => sectionName(s)).join(', ') : wholeWords(value as Section, library);
    case 'items': return itemsWords(value as readonly Item[], c.section, library);
    case 'order': return orderWords(value as readonly string[], c.sections ?? [], library);
    case 'group': return groupWords[value as Plan['group']];
    case 'kind': return kindWords[value as Section['kind']];
    case 'way': return said(wayWords, value);
    case 'sides': return said(sidesList, value);
    case 'lead': return said(leadList, value);
    case 'ends': return value === 'go' ? 'on go' : 'by the clock';
    case 'show': return typeof value === 'boolean' ? (value ? 'shown first' : 'not shown') : said(showList, value);
    case 'lastRest': return value === true ? 'it counts' : 'it does not count';
    case 'rounds': return rounds(value as Rounds);
    case 'target': { const { n, of } = value as NonNullable<Item['target']>; return `${n} ${of}`; }
    case 'series': { const { name, number, lever } = value as Series; return [`number ${number} of ${name}`, lever ? `${leverWords[lever]} grows` : ''].filter(Boolean).join(', '); }
    case 'waived': return Array.isArray(value) ? (value as Waiver[]).map((w) => `${w.rule}: ${w.reason}`).join(', ') : `${(value as Waiver).rule}: ${(value as Waiver).reason}`;
    case 'slot': case 'work': case 'rest': case 'setUp': case 'talk': case 'showEstimate': return seconds(value);
    default: return String(value);
  }
}

export interface ConflictWords { readonly where: string; readonly was: string; readonly mine: string; readonly theirs: string }
export function conflictWords(c: Conflict, library: Library): ConflictWords {
  const say = (value: unknown): string => valueWords(c, value, library);
  return { where: capital(c.where), was: c.base === undefined ? '' : say(c.base).replace(/^keeps it: /, ''), mine: say(c.mine), theirs: say(c.theirs) };
}

/** What is otherwise in the head of a plan: "The slot: 45 min instead of 30 min." */
export function headDifferences(from: Plan, to: Plan, library: Library): string[] {
  return (['name', 'note', 'forCover', 'group', 'slot', 'series', 'waived'] as const).flatMap((field) => {
    if (same(from[field], to[field])) return [];
    const where = fieldName(field);
    const say = (value: unknown): string => valueWords({ at: field, where, field, base: undefined, mine: undefined, theirs: undefined }, value, library);
    return [`${capital(where)}: ${say(to[field])} instead of ${say(from[field])}.`];
  });
}
