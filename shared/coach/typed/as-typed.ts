/**
 * Owns printing a plan as the shorthand that `typed` reads back to the same plan.
 * Ids of sections are not printed: they are made anew. What shorthand cannot say
 * is told in sentences.
 */
import type { Library } from '../../movement/movement.ts';
import type { Item, Plan, Section } from '../../plan/plan.ts';
import { many, sectionWords } from '../words.ts';
import { headingAt } from './headings.ts';
import { finder } from './names.ts';
import { lengthWords } from './numbers.ts';

export interface AsTyped { readonly text: string; readonly leftOut: readonly string[] }

const groupSaid: Readonly<Record<Plan['group'], string | null>> = {
  general: null, beginners: 'for beginners', 'older-adults': 'for older adults', pregnancy: 'for pregnancy', returning: 'for returning from injury',
};
const sidesSaid: Readonly<Record<NonNullable<Item['sides']>, string>> = {
  together: 'both sides at once', alternating: 'alternating', half: 'halved', full: 'a side', 'by-round': 'one side a round',
};
const leadSaid: Readonly<Record<NonNullable<Item['lead']>, string>> = { right: 'right first', left: 'left first', changes: 'lead changes' };

/** What a section and a movement say alike, but for the work. */
function timing(t: Item | Section): string[] {
  return [
    ...(t.target ? [`${t.target.n} ${t.target.of}`] : []),
    ...(t.sides ? [sidesSaid[t.sides]] : []),
    ...(t.lead ? [leadSaid[t.lead]] : []),
    ...(t.setUp === undefined ? [] : [`set-up ${t.setUp} s`]),
    ...(t.ends === undefined ? [] : [t.ends === 'go' ? 'on go' : 'by the clock']),
  ];
}

export function asTyped(plan: Plan, library: Library): AsTyped {
  const leftOut: string[] = [];
  const find = finder(library);
  const clean = (text: string, what: string): string => {
    const out = text.replace(/[\n\r]+/g, ' ').replace(/\s+/g, ' ').trim();
    if (out !== text) leftOut.push(`${what} is written on one line.`);
    return out;
  };
  const lines = [`name: ${clean(plan.name, 'The name')}`];
  if (plan.note) lines.push(`note: ${clean(plan.note, 'The note')}`);
  const group = groupSaid[plan.group];
  if (group) lines.push(group);
  if (plan.slot !== undefined) lines.push(`slot ${lengthWords(plan.slot)}`);
  if (plan.series) leftOut.push(`That it is number ${plan.series.number} of "${plan.series.name}".`);
  if (plan.waived?.length) leftOut.push(`What was waived, in ${many(plan.waived.length, 'place')}.`);
  for (const s of plan.sections) lines.push(line(s));
  return { text: lines.join('\n'), leftOut };

  function named(item: Item): string {
    const m = library.get(item.movement);
    const words = m?.name.split(/\s+/) ?? [];
    const whole = m && words.length <= 7 && !/[,;:+&()|*"\n/→>]/.test(m.name) && headingAt(m.name, 0) === null ? find.whole(words) : null;
    return whole && whole.count === words.length && whole.movement.id === item.movement ? (m?.name ?? '') : `#${item.movement}`;
  }
  function said(item: Item): string {
    return [
      named(item), ...(item.work === undefined ? [] : [`work ${item.work} s`]), ...timing(item),
      ...(item.rest === undefined ? [] : [`rest ${item.rest} s`]),
      ...(item.show === undefined ? [] : [item.show ? 'shown' : 'not shown']),
    ].join(' ');
  }
  function line(s: Section): string {
    const name = s.name === undefined ? [] : /["\n\r]/.test(s.name) ? [] : [`"${s.name}"`];
    if (s.name !== undefined && name.length === 0) leftOut.push(`${sectionWords(s)}: its name, because of its quotation marks.`);
    if (s.talk !== undefined) {
      const more = ['way', 'rounds', 'work', 'rest', 'show', 'sides'].filter((k) => (s as Record<string, unknown>)[k] !== undefined && !(k === 'way' && s.way === 'together') && !(k === 'rounds' && s.rounds === 1));
      if (more.length > 0 || !s.lastRest || s.showEstimate !== 20 || timing(s).length > 0) leftOut.push(`${sectionWords(s)}: all but its length, because it is talk.`);
      return [s.kind.replace('clear-up', 'clear up'), ...name, lengthWords(s.talk)].join(' ');
    }
    const rounds = typeof s.rounds === 'number' ? (s.rounds === 1 ? [] : [`${s.rounds} rounds`])
      : 'seconds' in s.rounds ? [`ladder ${s.rounds.seconds.join(' ')}`] : [`ladder ${s.rounds.reps.join(' ')} reps`];
    const work = s.work !== undefined && s.rest !== undefined ? [`${s.work}/${s.rest}`]
      : [...(s.work === undefined ? [] : [`work ${s.work} s`]), ...(s.rest === undefined ? [] : [`rest ${s.rest} s`])];
    const head = [
      s.kind.replace('clear-up', 'clear up'), ...name,
      [...(s.way === 'together' ? [] : [s.way === 'follow-me' ? 'follow me' : 'stations']), ...rounds, ...work, ...timing(s),
        ...(s.show === undefined ? [] : [`show ${s.show === 'all-first' ? 'all first' : s.show === 'in-the-rest' ? 'in the rest' : s.show}`]),
        ...(s.showEstimate === 20 ? [] : [`shows ${s.showEstimate} s`]), ...(s.lastRest ? [] : ['no last rest'])].join(', '),
    ].filter((w) => w !== '').join(' ');
    return `${head}: ${s.items.map(said).join(', ')}`;
  }
}
