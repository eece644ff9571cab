/**
 * Owns the shorthand itself: each phrase with what it means. A phrase that cannot
 * be meant says why instead of being taken.
 */
import { PLAN_MOST_S, ROUNDS_MAX, CLASS_MOST_S } from '../../limits.ts';
import { longS } from '../words.ts';
import type { Draft, ItemDraft, SectionDraft } from './draft.ts';
import { LENGTH, NUMBER, numberOf, secondsOf } from './numbers.ts';

export interface Phrase {
  readonly re: RegExp;
  /** plan: the class; section: always the section; head: a section, and a new one where the present one has movements; turn: the same, but behind a movement of its own part it is of the present one; both: the movement it stands with, else the section. */
  readonly scope: 'plan' | 'section' | 'head' | 'turn' | 'both';
  /** What was understood in words, or what is wrong. */
  readonly take: (m: RegExpExecArray, to: Target) => { readonly says: string } | { readonly wrong: string };
}
export interface Target { readonly draft: Draft; readonly section: SectionDraft; readonly item: ItemDraft | null; readonly from: number; readonly to: number }

const re = (source: string): RegExp => new RegExp(`${source}(?![\\p{L}\\p{N}])`, 'iuy');
const says = (words: string) => ({ says: words });
const wrong = (words: string) => ({ wrong: words });

/** The words for what is wrong with so many seconds; null where nothing is. */
export function badSeconds(s: number, least = 1): string | null {
  if (!Number.isFinite(s)) return 'That is no number.';
  if (s < least) return `${s} s is too short: ${least} s is the least.`;
  if (s > PLAN_MOST_S) return `${longS(s)} is too long: an hour is the most for one stretch.`;
  return Math.abs(s * 10 - Math.round(s * 10)) > 1e-6 ? `${s} s is too fine: tenths of a second are the finest.` : null;
}
const fieldsOf = (t: Target) => (t.item ?? t.section.fields) as ItemDraft & SectionDraft['fields'];
const badCount = (n: number, most: number, what: string): string | null => (Number.isInteger(n) && n >= 1 && n <= most ? null : `${n} ${what}: 1 to ${most}, in whole numbers.`);

const groupsSaid = [
  ['general', 'everybody|everyone|a mixed class'], ['beginners', 'beginners'], ['older-adults', 'older adults|seniors'],
  ['pregnancy', 'pregnancy(?: and after)?|pregnant(?: people)?|mothers'], ['returning', 'returning(?: from injury)?'],
] as const;

const simple = (source: string, scope: Phrase['scope'], words: string, set: (t: Target) => void): Phrase => ({ re: re(source), scope, take: (_, t) => { set(t); return says(words); } });
const sides = (source: string, way: NonNullable<ItemDraft['sides']>, words: string): Phrase => simple(source, 'both', words, (t) => { fieldsOf(t).sides = way; });

export const phrases: readonly Phrase[] = [
  ...groupsSaid.map(([group, source]) => simple(`for (?:${source})`, 'plan', `for ${group.replace('-', ' ')}`, (t) => { t.draft.plan.group = group; })),
  {
    re: re(`(?:slot (${LENGTH})|(${LENGTH}) slot|in (${LENGTH}))`), scope: 'plan',
    take: (m, t) => {
      const s = secondsOf(m[1] ?? m[2] ?? m[3] ?? '');
      if (!Number.isInteger(s) || s < 60 || s > CLASS_MOST_S) return wrong(`A slot is 1 minute to ${CLASS_MOST_S / 3600} hours.`);
      t.draft.plan.slot = s;
      return says(`slot ${longS(s)}`);
    },
  },
  {
    re: /"([^"\n]*)"/y, scope: 'section',
    take: (m, t) => {
      const name = (m[1] ?? '').trim();
      if (name.length === 0 || name.length > 80) return wrong('A name has 1 to 80 letters.');
      t.section.fields.name = name;
      return says(`called ${name}`);
    },
  },
  {
    re: re(`(${NUMBER}) ?(?:s|sec|seconds)? ?(?:/ ?|on,? )(${NUMBER}) ?(?:s|sec|seconds)?(?: off)?(?: ?[x×] ?(${NUMBER}))?`), scope: 'head',
    take: (m, t) => {
      const work = secondsOf(m[1] ?? '');
      const rest = secondsOf(m[2] ?? '');
      const rounds = m[3] === undefined ? null : numberOf(m[3]);
      const bad = badSeconds(work) ?? (rest === 0 ? null : badSeconds(rest)) ?? (rounds === null ? null : badCount(rounds, ROUNDS_MAX, 'rounds'));
      if (bad) return wrong(bad);
      Object.assign(t.section.fields, { work, rest }, rounds === null ? {} : { rounds });
      return says(`${work} s of work, ${rest} s of rest${rounds === null ? '' : `, ${rounds} rounds`}`);
    },
  },
  {
    re: re(`(${NUMBER}) ?[x×](?= ?:| ${NUMBER} ?(?:s|sec)? ?(?:/|on))`), scope: 'head',
    take: (m, t) => {
      const rounds = numberOf(m[1] ?? '');
      const bad = badCount(rounds, ROUNDS_MAX, 'rounds');
      if (bad) return wrong(bad);
      t.section.fields.rounds = rounds;
      return says(`${rounds} rounds`);
    },
  },
  {
    re: re(`(${NUMBER}) ?(?:[x×] ?|sets? ?(?:of|[x×]) ?)(${NUMBER}) ?(s|sec|seconds|reps|repetitions|times)?`), scope: 'both',
    take: (m, t) => {
      const [rounds, n] = [numberOf(m[1] ?? ''), numberOf(m[2] ?? '')];
      const unit = m[3] === undefined ? null : /^s/i.test(m[3]) ? 's' : 'count';
      const bad = badCount(rounds, ROUNDS_MAX, 'sets') ?? (unit === 's' ? badSeconds(n) : badCount(n, 200, 'reps'));
      if (bad) return wrong(bad);
      (t.item ?? t.section).sets = { rounds, n, unit, from: t.from, to: t.to };
      return says(`${rounds} sets of ${n}${unit === 's' ? ' s' : ' reps'}`);
    },
  },
  simple('(?:straight sets|all sets of one before the next)', 'section', 'all sets of one before the next', (t) => { t.section.straight = true; }),
  {
    re: re(`(?:(?:every|each) (minute|${LENGTH})(?:,? on the minute)?|on the minute|emom)`), scope: 'turn',
    take: (m, t) => {
      const s = m[1] === undefined || /^minute/i.test(m[1]) ? 60 : secondsOf(m[1]);
      const bad = badSeconds(s, 20);
      if (bad) return wrong(bad);
      t.section.every = s;
      return says(`a turn begins every ${s === 60 ? 'minute' : longS(s)}`);
    },
  },
  {
    re: re(`for (${LENGTH})`), scope: 'both',
    take: (m, t) => {
      const s = secondsOf(m[1] ?? '');
      const bad = badSeconds(s);
      if (bad) return wrong(bad);
      if (t.section.every !== undefined) t.section.lasts = s;
      else if (t.item) t.item.work = s;
      else t.section.length = s;
      return says(`for ${longS(s)}`);
    },
  },
  {
    re: re(`(${NUMBER}) ?(?:rounds?|times through|sets?)`), scope: 'head',
    take: (m, t) => {
      const rounds = numberOf(m[1] ?? '');
      const bad = badCount(rounds, ROUNDS_MAX, 'rounds');
      if (bad) return wrong(bad);
      t.section.fields.rounds = rounds;
      return says(`${rounds} ${rounds === 1 ? 'round' : 'rounds'}`);
    },
  },
  {
    re: re(`ladder((?:[ -]+\\d{1,7}(?:\\.\\d{1,4})?)+)( ?(?:reps|times|counts))?`), scope: 'head',
    take: (m, t) => {
      const steps = (m[1] ?? '').match(/\d+(?:\.\d+)?/g)?.map(Number) ?? [];
      const bad = steps.length > ROUNDS_MAX ? `${steps.length} rounds: ${ROUNDS_MAX} at most.`
        : m[2] ? steps.map((n) => badCount(n, 200, 'reps')).find((b) => b !== null) : steps.map((s) => badSeconds(s)).find((b) => b !== null);
      if (bad) return wrong(bad);
      t.section.fields.rounds = m[2] ? { reps: steps } : { seconds: steps };
      return says(`ladder of ${steps.join(', ')} ${m[2] ? 'reps' : 's'}`);
    },
  },
  {
    re: re(`(?:rest (${LENGTH}|${NUMBER}) between rounds|(${LENGTH}) rest between rounds)`), scope: 'section',
    take: (m, t) => {
      const s = secondsOf(m[1] ?? m[2] ?? '');
      const bad = badSeconds(s);
      if (bad) return wrong(bad);
      t.section.betweenRounds = s;
      return says(`${longS(s)} of rest between rounds`);
    },
  },
  ...([['rest', 'rest', 'of rest'], ['set-?up', 'setUp', 'to set up'], ['work', 'work', 'of work']] as const).map(([source, field, words]): Phrase => ({
    re: re(`(?:${source} (${LENGTH}|${NUMBER})|(${LENGTH}) ${source})`), scope: 'both',
    take: (m, t) => {
      const s = secondsOf(m[1] ?? m[2] ?? '');
      const bad = s === 0 && field !== 'work' ? null : badSeconds(s);
      if (bad) return wrong(bad);
      fieldsOf(t)[field] = s;
      return says(`${longS(s)} ${words}`);
    },
  })),
  {
    re: re(`shows (${LENGTH}|${NUMBER})`), scope: 'section',
    take: (m, t) => {
      const s = secondsOf(m[1] ?? '');
      const bad = badSeconds(s);
      if (bad) return wrong(bad);
      t.section.fields.showEstimate = s;
      return says(`a show takes ${longS(s)}`);
    },
  },
  ...([['each', 'each'], ['all first', 'all-first'], ['in the rest', 'in-the-rest'], ['none', 'none']] as const).map(([source, show]) =>
    simple(`show ${source}`, 'section', `show ${source}`, (t) => { t.section.fields.show = show; })),
  simple('no last rest', 'section', 'no rest after the last', (t) => { t.section.fields.lastRest = false; }),
  simple('follow[- ]me', 'head', 'follow me', (t) => { t.section.fields.way = 'follow-me'; }),
  simple('stations', 'head', 'stations', (t) => { t.section.fields.way = 'stations'; }),
  sides('one side a round', 'by-round', 'one side a round'),
  sides('halved', 'half', 'halved: half of it a side'),
  sides('both sides(?: at once)?', 'together', 'both sides at once'),
  sides('alternating', 'alternating', 'left and right in turn'),
  {
    re: re('(?:a|per|each|every) side'), scope: 'both',
    take: (_, t) => {
      fieldsOf(t).sides = 'full';
      if (t.item) t.item.perSide = { from: t.from, to: t.to };
      return says('each side');
    },
  },
  ...([['right first', 'right'], ['left first', 'left'], ['lead changes', 'changes']] as const).map(([source, lead]) =>
    simple(source, 'both', source, (t) => { fieldsOf(t).lead = lead; })),
  simple('on go', 'both', 'ends on go', (t) => { fieldsOf(t).ends = 'go'; }),
  simple('by the clock', 'both', 'ends by the clock', (t) => { fieldsOf(t).ends = 'clock'; }),
  simple('shown', 'both', 'shown first', (t) => { if (t.item) t.item.show = true; else t.section.fields.show = 'each'; }),
  simple('not shown', 'both', 'not shown', (t) => { if (t.item) t.item.show = false; else t.section.fields.show = 'none'; }),
  {
    re: re(`(${NUMBER}) ?(reps?|repetitions|times|breaths?)`), scope: 'both',
    take: (m, t) => {
      const n = numberOf(m[1] ?? '');
      const of = /^breath/i.test(m[2] ?? '') ? 'breaths' : 'reps';
      const bad = badCount(n, 200, of);
      if (bad) return wrong(bad);
      fieldsOf(t).target = { of, n };
      return says(`${n} ${of}`);
    },
  },
  {
    re: re(`[x×] ?(${NUMBER})`), scope: 'both',
    take: (m, t) => {
      const n = numberOf(m[1] ?? '');
      const bad = t.item ? badCount(n, 200, 'reps') : badCount(n, ROUNDS_MAX, 'rounds');
      if (bad) return wrong(bad);
      if (t.item) t.item.target = { of: 'reps', n };
      else t.section.fields.rounds = n;
      return says(t.item ? `${n} reps` : `${n} rounds`);
    },
  },
  {
    re: re(`(${LENGTH})`), scope: 'both',
    take: (m, t) => {
      const s = secondsOf(m[1] ?? '');
      const bad = badSeconds(s);
      if (bad) return wrong(bad);
      if (t.item) t.item.work = s;
      else t.section.length = s;
      return says(longS(s));
    },
  },
  {
    re: re(`(${NUMBER})`), scope: 'both',
    take: (m, t) => {
      const n = numberOf(m[1] ?? '');
      if (!t.item) return wrong(`${m[1]} of what? Write "${m[1]} s", "${m[1]} rounds" or "${m[1]} reps".`);
      const bad = badSeconds(n);
      if (bad) return wrong(bad);
      t.item.bare = n;
      t.item.bareAt = { from: t.from, to: t.to };
      return says(`${n}`);
    },
  },
];
