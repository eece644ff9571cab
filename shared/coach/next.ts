/**
 * Owns proposing the next session of a series: what to mend after the last one,
 * and one lever that makes it a little harder, each as a change with a sentence
 * that can be taken or left. Never more than one lever at a time. Ceiling on the
 * increase from one session to the next: a tenth, common practice, no source.
 */
import { REST_LEAST_MS, ROUNDS_MAX, SERIES_MAX } from '../limits.ts';
import type { Library } from '../movement/movement.ts';
import { compile } from '../plan/compile.ts';
import { type levers, type Plan, planSchema } from '../plan/plan.ts';
import { applyEdits, type PlanEdit } from './edit.ts';
import type { Where } from './finding.ts';
import type { Lived, LivedMovement } from './lived.ts';
import { factsOfLibrary, study } from './study.ts';
import { long, longS, sectionWords, small, total } from './words.ts';

export type Lever = (typeof levers)[number];
export const leverWords: Readonly<Record<Lever, string>> = { seconds: 'More seconds', rounds: 'More rounds', rest: 'Less rest', option: 'A harder option' };
export const leverOrder: readonly Lever[] = ['seconds', 'rounds', 'rest', 'option'];
export const CEILING = 0.1;
export const CEILING_SOURCE = 'At most a tenth more from one session to the next: common practice, no source. Effort 0 to 10 as in Foster et al. 2001, J Strength Cond Res 15:109-15; from which answer on to wait or to ease is common practice, no source.';
/** From this effort on nothing is added, and from the second one on something is taken away. */
const HOLD_FROM = 7;
const EASE_FROM = 8.5;
const MORE_S = 5;

export interface Rule { readonly lever: Lever; /** Share, 0.1 is a tenth; at most a half. */ readonly ceiling?: number }
export interface Change {
  readonly id: string;
  /** more: the lever; ease: less; mend: after what happened; keep: nothing changes, and why. */
  readonly kind: 'more' | 'ease' | 'mend' | 'keep';
  readonly where: Where;
  readonly sentence: string;
  readonly edits: readonly PlanEdit[];
}
export interface Next { readonly changes: readonly Change[]; readonly says: string; readonly source: string }

interface Spot { readonly section: number; readonly id: string; readonly item: number; readonly movement: string; readonly lived: LivedMovement | null }

/** What the main part asks of a body: work times MET, in MET-seconds; and the share of its time that is work. */
function load(plan: Plan, library: Library): { met: number; share: number } {
  const s = study(plan, library);
  const main = new Set(plan.sections.flatMap((x, k) => (x.kind === 'main' ? [k] : [])));
  const works = s.works.filter((w) => main.has(w.section));
  const time = total(s.compiled.intervals.filter((i) => main.has(i.section) && i.kind !== 'show' && i.kind !== 'talk'), (i) => i.lengthMs);
  return { met: total(works, (w) => (w.ms / 1_000) * w.movement.intensity.met), share: time === 0 ? 0 : total(works, (w) => w.ms) / time };
}

export function nextSession(plan: Plan, library: Library, last: Lived | null, effort: number | null, rule: Rule): Next {
  const ceiling = Math.min(0.5, Math.max(0, rule.ceiling ?? CEILING));
  const spots: Spot[] = plan.sections.flatMap((s, section) => s.kind !== 'main' ? [] : s.items.map((i, item) => ({
    section, id: s.id, item, movement: i.movement, lived: last?.movements.find((m) => m.section === s.id && m.item === item) ?? null,
  })));
  const mends = mendsOf(plan, library, spots, last);
  const told = effort === null ? 'Nobody said how hard it was' : `The effort was ${Math.round(effort * 10) / 10} of 10`;
  if (effort !== null && effort >= EASE_FROM) {
    return { changes: [...mends, ...easeOf(plan, library, spots)], says: `${told}: that is nearly all there is. Take something away, and add again when it is under ${HOLD_FROM}.`, source: CEILING_SOURCE };
  }
  if (effort !== null && effort >= HOLD_FROM) {
    return { changes: [...mends, keep('effort', `${told}. Do the same session again before anything is added.`)], says: `${told}: the same again.`, source: CEILING_SOURCE };
  }
  const weak = spots.filter((s) => (s.lived?.formPauses ?? 0) >= 2 || (s.lived?.skipped ?? 0) > 0);
  const ready = spots.filter((s) => !weak.includes(s));
  if (weak.length > 0 && weak.length >= spots.length / 2) {
    return { changes: [...mends, keep('mend', `Half of the movements or more were cut or stopped for form last time. Nothing is added until they go well.`)], says: 'Mend first, add later.', source: CEILING_SOURCE };
  }
  const { more, lever } = leverOf(plan, library, ready, rule.lever, ceiling);
  return {
    changes: [...mends, ...more],
    says: `${told}. One lever: ${leverWords[lever].toLowerCase()}${lever === rule.lever ? '' : `, since ${leverWords[rule.lever].toLowerCase()} cannot be had`}, at most ${Math.round(ceiling * 100)} % more than last time.`,
    source: CEILING_SOURCE,
  };
}

const keep = (about: string, sentence: string, where: Where = {}): Change => ({ id: `keep-${about}`, kind: 'keep', where, sentence, edits: [] });
const nameOf = (library: Library, id: string): string => { const m = library.get(id); return m ? small(m) : id; };

function mendsOf(plan: Plan, library: Library, spots: readonly Spot[], last: Lived | null): Change[] {
  const out: Change[] = [];
  for (const s of spots) {
    const { lived } = s;
    const where = { section: s.id, item: s.item, movement: s.movement };
    if (lived && lived.formPauses >= 2) {
      const option = library.get(s.movement)?.option.movement;
      const easier = option === undefined ? undefined : library.get(option);
      out.push({
        id: `form-${s.id}-${s.item}`, kind: 'mend', where,
        sentence: `The class was stopped ${lived.formPauses} times to correct ${nameOf(library, s.movement)}. ${easier ? `Do ${small(easier)} until it goes well.` : 'Show it again before the first round.'}`,
        edits: easier ? [{ do: 'movement', section: s.id, item: s.item, movement: easier.id }] : [{ do: 'set-item', section: s.id, item: s.item, fields: { show: true } }],
      });
    } else if (lived && lived.skipped > 0) {
      const items = plan.sections[s.section]?.items.length ?? 0;
      const together = plan.sections[s.section]?.way !== 'follow-me';
      out.push(s.item > 0 && together && s.item === items - 1 ? {
        id: `first-${s.id}-${s.item}`, kind: 'mend', where,
        sentence: `${cap(nameOf(library, s.movement))} was left out ${lived.skipped === 1 ? 'once' : `${lived.skipped} times`}. Do it first in the round, so that it is not what time takes away.`,
        edits: [{ do: 'order', section: s.id, order: [s.item, ...Array.from({ length: items }, (_, k) => k).filter((k) => k !== s.item)] }],
      } : keep(`${s.id}-${s.item}`, `${cap(nameOf(library, s.movement))} was left out ${lived.skipped === 1 ? 'once' : `${lived.skipped} times`}. Nothing is added to it.`, where));
    }
  }
  // An order that changes goes last, so that the places of the others still hold.
  out.sort((a, b) => Number(a.edits.some((e) => e.do === 'order')) - Number(b.edits.some((e) => e.do === 'order')));
  if (last && last.lateMs > 120_000) out.push(keep('late', `The last one ended ${long(last.lateMs)} late. Fit the plan to the slot before you add to it.`));
  return out;
}
const cap = (t: string): string => t.charAt(0).toUpperCase() + t.slice(1);

function easeOf(plan: Plan, library: Library, spots: readonly Spot[]): Change[] {
  const hardest = spots.filter((s) => {
    const id = library.get(s.movement)?.option.movement;
    return id !== undefined && library.has(id);
  }).sort((a, b) => (library.get(b.movement)?.intensity.met ?? 0) - (library.get(a.movement)?.intensity.met ?? 0))[0];
  const option = hardest && library.get(library.get(hardest.movement)?.option.movement ?? '');
  if (hardest && option) return [{
    id: 'ease-option', kind: 'ease', where: { section: hardest.id, item: hardest.item, movement: hardest.movement },
    sentence: `${cap(nameOf(library, hardest.movement))} is the hardest movement that has an easier one. Do ${small(option)} next time.`,
    edits: [{ do: 'movement', section: hardest.id, item: hardest.item, movement: option.id }],
  }];
  const section = plan.sections.find((s) => s.kind === 'main' && s.items.length > 0 && s.way !== 'follow-me');
  return section ? [{
    id: 'ease-rest', kind: 'ease', where: { section: section.id },
    sentence: `${sectionWords(section)}: rest 10 s longer after each movement next time.`,
    edits: [{ do: 'set', section: section.id, fields: { rest: (section.rest ?? 0) + 10 } }],
  }] : [];
}

/** The changes of the lever that is asked for; where it can do nothing, why, and those of the first other one that can. */
function leverOf(plan: Plan, library: Library, ready: readonly Spot[], asked: Lever, ceiling: number): { readonly more: readonly Change[]; readonly lever: Lever } {
  const does = (changes: readonly Change[]): boolean => changes.some((c) => c.kind === 'more');
  const more = moreOf(plan, library, ready, asked, ceiling);
  if (does(more)) return { more, lever: asked };
  for (const lever of leverOrder) {
    const other = lever === asked ? [] : moreOf(plan, library, ready, lever, ceiling);
    if (does(other)) return { more: [...more.map((c) => ({ ...c, sentence: `${c.sentence} So it is ${leverWords[lever].toLowerCase()} this time.` })), ...other], lever };
  }
  return { more: more.map((c) => ({ ...c, sentence: `${c.sentence} No other lever can be moved either: do it again as it is, or raise the ceiling.` })), lever: asked };
}

/** The changes of one lever, as many as fit under the ceiling together. */
function moreOf(plan: Plan, library: Library, ready: readonly Spot[], lever: Lever, ceiling: number): Change[] {
  const was = load(plan, library);
  const under = (edits: readonly PlanEdit[]): number => {
    const now = load(applyEdits(plan, edits), library);
    return lever === 'rest' ? (was.share === 0 ? 0 : now.share / was.share - 1) : (was.met === 0 ? 0 : now.met / was.met - 1);
  };
  const out: Change[] = [];
  const tooMuch: { words: string; by: number }[] = [];
  const offer = (change: Change): void => {
    const by = under([...out.flatMap((c) => c.edits), ...change.edits]);
    const alone = under(change.edits);
    if (by <= ceiling + 1e-9) out.push(change);
    else tooMuch.push({ words: change.sentence, by: alone });
  };
  for (const change of candidates(plan, library, ready, lever)) offer(change);
  if (out.length === 0) {
    const least = tooMuch.toSorted((a, b) => a.by - b.by)[0];
    out.push(keep('ceiling', least
      ? `${least.words.replace(/\.( .*)?$/s, '')}: that alone would be ${Math.round(least.by * 100)} % more, and ${Math.round(ceiling * 100)} % is the ceiling.`
      : `There is nothing that ${leverWords[lever].toLowerCase()} could change in this plan.`));
  } else if (tooMuch.length > 0) {
    out.push(keep('more', `${tooMuch.length} more of the kind would pass the ceiling of ${Math.round(ceiling * 100)} %; they wait for the session after.`));
  }
  return out;
}

function candidates(plan: Plan, library: Library, ready: readonly Spot[], lever: Lever): Change[] {
  const mains = plan.sections.filter((s) => s.kind === 'main' && s.items.length > 0);
  switch (lever) {
    case 'seconds': return ready.flatMap((s): Change[] => {
      const section = plan.sections[s.section];
      const item = section?.items[s.item];
      const work = item?.work ?? section?.work;
      if (section?.way !== 'together' || work === undefined || typeof section.rounds === 'object' || work + 2 * MORE_S > 300) return [];
      const half = (item?.sides ?? section.sides) === 'half' || ((item?.sides ?? section.sides) === undefined && library.get(s.movement)?.sides === 'each');
      const to = work + (half ? 2 : 1) * MORE_S;
      return [{
        id: `seconds-${s.id}-${s.item}`, kind: 'more', where: { section: s.id, item: s.item, movement: s.movement },
        sentence: `${sectionWords(section)}: ${nameOf(library, s.movement)} ${longS(to)} instead of ${longS(work)}${half ? ', shared by both sides' : ''}.`,
        edits: [{ do: 'set-item', section: s.id, item: s.item, fields: { work: to } }],
      }];
    });
    case 'rounds': return mains.flatMap((s): Change[] => {
      const list = typeof s.rounds === 'number' ? null : 'seconds' in s.rounds ? s.rounds.seconds : s.rounds.reps;
      const n = list ? list.length : (s.rounds as number);
      if (n >= ROUNDS_MAX) return [];
      const rounds = list === null ? n + 1 : 'seconds' in (s.rounds as object) ? { seconds: [...list, list.at(-1) as number] } : { reps: [...list, list.at(-1) as number] };
      return [{
        id: `rounds-${s.id}`, kind: 'more', where: { section: s.id },
        sentence: `${sectionWords(s)}: ${n + 1} rounds instead of ${n}.`, edits: [{ do: 'rounds', section: s.id, rounds }],
      }];
    });
    case 'rest': return mains.flatMap((s): Change[] => {
      const to = (s.rest ?? 0) - MORE_S;
      // The rest holds the set-up: below what bodies need the clock would add the time again.
      const shorter = s.rest === undefined || to < REST_LEAST_MS / 1_000 ? null : applyEdits(plan, [{ do: 'set', section: s.id, fields: { rest: to } }]);
      const added = (p: Plan): number => total(compile(p, factsOfLibrary(library)).added, (a) => a.ms);
      if (!shorter || added(shorter) > added(plan)) return [];
      return [{
        id: `rest-${s.id}`, kind: 'more', where: { section: s.id },
        sentence: `${sectionWords(s)}: ${longS(to)} of rest instead of ${longS(s.rest ?? 0)}.`, edits: [{ do: 'set', section: s.id, fields: { rest: to } }],
      }];
    });
    case 'option': return ready.flatMap((s): Change[] => {
      const build = library.get(library.get(s.movement)?.build.movement ?? '');
      const section = plan.sections[s.section];
      if (!build || !section) return [];
      return [{
        id: `option-${s.id}-${s.item}`, kind: 'more', where: { section: s.id, item: s.item, movement: s.movement },
        sentence: `${sectionWords(section)}: ${small(build)} instead of ${nameOf(library, s.movement)}. Whoever is not there yet stays with what they know.`,
        edits: [{ do: 'movement', section: s.id, item: s.item, movement: build.id }],
      }];
    }).slice(0, 1);
  }
}

/** The next plan of the series, with the changes that were taken; the plan itself stays as it is. */
export function takeChanges(plan: Plan, changes: readonly Change[]): Plan {
  const edits = changes.flatMap((c) => c.edits);
  const ordered = [...edits.filter((e) => e.do !== 'order'), ...edits.filter((e) => e.do === 'order')];
  const number = Math.min(SERIES_MAX, (plan.series?.number ?? 1) + 1);
  const base = plan.id.replace(/-\d+$/, '').slice(0, 55);
  const name = plan.series?.name ?? plan.name;
  return planSchema.parse({ ...applyEdits(plan, ordered), id: `${base}-${number}`, series: { ...plan.series, name, number } });
}

