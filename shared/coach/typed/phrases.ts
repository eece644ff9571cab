/**
 * Owns the shorthand itself: each phrase with what it means. A phrase that cannot
 * be meant says why instead of being taken.
 */
import { ROUNDS_MAX, CLASS_MOST_S } from '../../limits.ts';
import { longS } from '../words.ts';
import type { ItemDraft } from './draft.ts';
import { LENGTH, NUMBER, numberOf, secondsOf } from './numbers.ts';
import { badCount, badSeconds, fieldsOf, type Phrase, re, says, simple, wrong } from './phrase.ts';
import { trade } from './trade.ts';

const groupsSaid = [
  ['general', 'everybody|everyone|a mixed class'], ['beginners', 'beginners'], ['older-adults', 'older adults|seniors'],
  ['pregnancy', 'pregnancy(?: and after)?|pregnant(?: people)?|mothers'], ['returning', 'returning(?: from injury)?'],
] as const;

const sides = (source: string, way: NonNullable<ItemDraft['sides']>, words: string): Phrase => simple(source, 'both', words, (t) => { fieldsOf(t).sides = way; });

export const phrases: readonly Phrase[] = [
  ...trade,
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
    re: re(`(${NUMBER}) ?sets?`), scope: 'head',
    take: (m, t) => {
      const rounds = numberOf(m[1] ?? '');
      const bad = badCount(rounds, ROUNDS_MAX, 'rounds');
      if (bad) return wrong(bad);
      t.section.fields.rounds = rounds;
      return says(`${rounds} ${rounds === 1 ? 'round' : 'rounds'}`);
    },
  },
  {
    re: re(`(?:ladder|pyramid)(?: of)?((?:[ -]+\\d{1,7}(?:\\.\\d{1,4})?)+)( ?(?:reps|times|counts))?`), scope: 'head',
    take: (m, t) => {
      const steps = (m[1] ?? '').match(/\d+(?:\.\d+)?/g)?.map(Number) ?? [];
      const bad = steps.length > ROUNDS_MAX ? `${steps.length} rounds: ${ROUNDS_MAX} at most.`
        : m[2] ? steps.map((n) => badCount(n, 200, 'reps')).find((b) => b !== null) : steps.map((s) => badSeconds(s)).find((b) => b !== null);
      if (bad) return wrong(bad);
      t.section.fields.rounds = m[2] ? { reps: steps } : { seconds: steps };
      return says(`ladder of ${steps.join(', ')} ${m[2] ? 'reps' : 's'}`);
    },
  },
  ...([['(?:rest|recover(?:y)?)', 'rest', 'of rest'], ['set-?up', 'setUp', 'to set up'], ['work', 'work', 'of work']] as const).map(([source, field, words]): Phrase => ({
    // "40 s rest 20 s" is 40 s, and then a rest of 20 s.
    re: re(`(?:${source} (?:for )?(${LENGTH}|${NUMBER})|(${field === 'rest' ? `${LENGTH}|${NUMBER}` : LENGTH}) (?:of )?${source}${field === 'rest' ? `(?! ?(?:${LENGTH}|${NUMBER})(?! ?(?:reps|breaths|times|[x×]|rounds?|rds?|work|rest)))` : ''})`), scope: 'both',
    take: (m, t) => {
      const s = secondsOf(m[1] ?? m[2] ?? '');
      const bad = s === 0 && field !== 'work' ? null : badSeconds(s);
      if (bad) return wrong(bad);
      fieldsOf(t)[field] = s;
      return says(`${longS(s)} ${words}`);
    },
  })),
  {
    re: re('(?:rest|recover(?:y)?)'), scope: 'both',
    take: () => ({ wrong: 'How long is the rest?', choices: ['15 s', '30 s', '60 s'].map((r) => ({ label: r, text: `rest ${r}` })) }),
  },
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
  sides('both sides at once', 'together', 'both sides at once'),
  sides('alternating', 'alternating', 'left and right in turn'),
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
      const { item } = t;
      // "30 s x 3" is three times 30 s; "squat x 10" is ten of them.
      if (item?.work !== undefined && !item.sets && n <= ROUNDS_MAX) item.sets = { rounds: n, n: item.work, unit: 's', from: t.from, to: t.to };
      else if (item) item.target = { of: 'reps', n };
      else t.section.fields.rounds = n;
      return says(item ? `${n} reps` : `${n} rounds`);
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
      if (!t.item) return { ...wrong(`${m[1]} of what? Write "${m[1]} s", "${m[1]} rounds" or "${m[1]} reps".`), choices: ['min', 'rounds'].map((u) => ({ label: `${m[1]} ${u}`, text: `${m[1]} ${u}` })) };
      const bad = badSeconds(n);
      if (bad) return wrong(bad);
      t.item.bare = n;
      t.item.bareBefore = t.before;
      t.item.bareAt = { from: t.from, to: t.to };
      return says(`${n}`);
    },
  },
];
