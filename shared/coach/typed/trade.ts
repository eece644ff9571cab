/**
 * Owns what the trade writes short ("e/s", "3 rds", "20:10", "EMOM 10", "no rest"), and what paper says that a plan cannot
 * (weights, tempo, as many rounds as possible): that is asked with its reason. Common practice, no source.
 */
import { ROUNDS_MAX } from '../../limits.ts';
import { longS } from '../words.ts';
import { LENGTH, NUMBER, numberOf, secondsOf } from './numbers.ts';
import { badCount, badSeconds, fieldsOf, type Phrase, re, says, simple, wrong } from './phrase.ts';

/** "40/20", "40 on 20 off", "1 min work / 15 s rest", "20:10", each perhaps "x 8". */
const ON = `(${LENGTH}|${NUMBER}) ?(?:s|sec|seconds)?(?: ?work)? ?(?:/ ?|on,? ?/? ?)(${LENGTH}|${NUMBER}) ?(?:s|sec|seconds)?(?: ?(?:off|rest|change|move))?`;
const RATIO = '([1-9][05]):([0-5][05])(?<!00)(?!:?\\d)';
const ROUNDS = '(?:rounds?|rds?|laps?|times (?:through|round)|circuits?)';

const cannot = (source: string, why: string): Phrase => ({ re: re(source), scope: 'section', take: () => wrong(why) });

/** Tried before the longer-written phrases, since these would take a part of them. */
export const trade: readonly Phrase[] = [
  cannot('(?:@ ?)?\\d{1,3}(?:\\.\\d)? ?(?:kgs?|kilos?|lbs?|pounds?)', 'Weights are not kept with a movement. Write them in the note ("note: 12 kg").'),
  cannot('(?:with )?(?:light|medium|heavy) (?:dbs?|dumbbells?|weights?|bands?|kettlebells?)', 'Weights are not kept with a movement. Write them in the note ("note: light weights").'),
  cannot('tempo(?: ?\\d(?:[-–/ ]?\\d){1,3})?', 'A tempo is not kept with a movement. Say it as you show, or write it in the note.'),
  cannot('(?:amrap|as many (?:rounds|reps)(?: as possible)?|max(?:imum)?(?: reps)?|for time|to failure)', 'Everybody at a pace of their own is nothing that one clock can lead. Write seconds, or counts.'),
  cannot('(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?s?,? (?:at )?\\d{1,2}[:.]\\d\\d(?: ?[ap]\\.?m\\.?)?', 'Days and times stand in the timetable.'),
  cannot('(?:after|before) (?:the )?(?:round|set|lap) \\d{1,2}', 'A break stands in its place between two sections, or is put in while the class runs.'),
  {
    re: re(`emom ?[x×]? ?(${NUMBER})(?= ?(?:[:,;(\\n]|$))`), scope: 'turn',
    take: (m, t) => {
      const s = numberOf(m[1] ?? '') * 60;
      const bad = badSeconds(s);
      if (bad) return wrong(bad);
      Object.assign(t.section, { every: 60, lasts: s });
      return says(`a turn begins every minute, for ${longS(s)}`);
    },
  },
  {
    // Tabata et al. 1996: 20 s of work, 10 s of rest, 7 or 8 times.
    re: re('tabata'), scope: 'head',
    take: (_, t) => { Object.assign(t.section.fields, { work: 20, rest: 10, rounds: 8 }); return says('20 s of work, 10 s of rest, 8 rounds'); },
  },
  {
    re: re('e([2-5])mom'), scope: 'turn',
    take: (m, t) => { t.section.every = Number(m[1]) * 60; return says(`a turn begins every ${m[1]} min`); },
  },
  {
    re: re('(?:odd|even)(?: (?:minutes?|mins?))?'), scope: 'section',
    take: (m, t) => (t.section.every === undefined ? wrong('Odd or even of what? Write "every minute" before it.') : says(m[0].toLowerCase().startsWith('odd') ? 'every other turn, from the first on' : 'every other turn, from the second on')),
  },
  {
    re: re(`(?:${ON}|${RATIO})(?: ?[x×] ?(${NUMBER})(?: ?${ROUNDS})?)?`), scope: 'head',
    take: (m, t) => {
      const work = secondsOf(m[1] ?? m[3] ?? '');
      const rest = secondsOf(m[2] ?? m[4] ?? '');
      const rounds = m[5] === undefined ? null : numberOf(m[5]);
      const bad = badSeconds(work) ?? (rest === 0 ? null : badSeconds(rest)) ?? (rounds === null ? null : badCount(rounds, ROUNDS_MAX, 'rounds'));
      if (bad) return wrong(bad);
      Object.assign(t.section.fields, { work, rest }, rounds === null ? {} : { rounds });
      return says(`${work} s of work, ${rest} s of rest${rounds === null ? '' : `, ${rounds} rounds`}`);
    },
  },
  {
    re: re(`(?:(${NUMBER}) ?[x×](?= ?[:(]| (?:${NUMBER}) ?(?:s|sec)? ?(?:/|on|:\\d)| ?$)|(?:repeat(?:ed)? ?)[x×]? ?(${NUMBER})(?: ?[x×]| times)?|[x×] ?(${NUMBER}) ?(?:${ROUNDS}|sets?|through)|(${NUMBER}) ?${ROUNDS})`), scope: 'head',
    take: (m, t) => {
      const rounds = numberOf(m[1] ?? m[2] ?? m[3] ?? m[4] ?? '');
      const bad = badCount(rounds, ROUNDS_MAX, 'rounds');
      if (bad) return wrong(bad);
      t.section.fields.rounds = rounds;
      return says(`${rounds} ${rounds === 1 ? 'round' : 'rounds'}`);
    },
  },
  {
    re: re('(\\d{1,3})((?:-\\d{1,3}){2,})( ?(?:s|secs?|seconds|reps|counts))?'), scope: 'head',
    take: (m, t) => {
      const steps = `${m[1]}${m[2]}`.split('-').map(Number);
      // "21-15-9" is counted, "20-30-40" is timed: from 15 on a bare number is seconds, where all of them are.
      const counts = m[3] === undefined ? steps.some((n) => n < 15) && !steps.every((n) => n % 10 === 0) : !/^ ?s/i.test(m[3]);
      const bad = steps.length > ROUNDS_MAX ? `${steps.length} rounds: ${ROUNDS_MAX} at most.` : steps.map((n) => (counts ? badCount(n, 200, 'reps') : badSeconds(n))).find((b) => b !== null);
      if (bad) return wrong(bad);
      t.section.fields.rounds = counts ? { reps: steps } : { seconds: steps };
      return says(`ladder of ${steps.join(', ')} ${counts ? 'reps' : 's'}`);
    },
  },
  {
    re: re(`(?:rest )?(${LENGTH}|${NUMBER}) (?:of )?(?:rest )?(?:in )?(?:between|b/w|after each|after every) (?:the )?(?:rounds?|rds?|sets?|laps?|circuits?)|rest (?:between|b/w|after each) (?:rounds?|rds?|laps?):? ?(${LENGTH}|${NUMBER})`), scope: 'section',
    take: (m, t) => {
      const s = secondsOf(m[1] ?? m[2] ?? '');
      const bad = badSeconds(s);
      if (bad) return wrong(bad);
      t.section.betweenRounds = s;
      return says(`${longS(s)} of rest between rounds`);
    },
  },
  simple('(?:no|without) rests?', 'both', 'no rest', (t) => { fieldsOf(t).rest = 0; }),
  {
    re: re(`(${LENGTH}|${NUMBER}) ?holds?`), scope: 'both',
    take: (m, t) => {
      const s = secondsOf(m[1] ?? '');
      const bad = badSeconds(s);
      if (bad) return wrong(bad);
      if (t.item?.target ?? t.item?.sets) return wrong('How long each count is held is not kept with a movement. Say it as you show, or write it in the note.');
      if (t.item) t.item.work = s;
      else t.section.fields.work = s;
      return says(`held for ${longS(s)}`);
    },
  },
  {
    re: re(`(${LENGTH}|${NUMBER}) (?:each|apiece)(?! ?(?:side|leg|arm|way|minute|round))`), scope: 'both',
    take: (m, t) => {
      const s = secondsOf(m[1] ?? '');
      const bad = badSeconds(s);
      if (bad) return wrong(bad);
      if (t.item) t.item.each = { s, from: t.from, to: t.to };
      else t.section.fields.work = s;
      return says(`${longS(s)} each`);
    },
  },
  {
    re: re(`(${LENGTH}) ?(?:l|left) ?[+/&,]? ?(${LENGTH}) ?(?:r|right)|(${LENGTH}) ?(?:r|right) ?[+/&,]? ?(${LENGTH}) ?(?:l|left)`), scope: 'both',
    take: (m, t) => {
      const [a, b] = [secondsOf(m[1] ?? m[3] ?? ''), secondsOf(m[2] ?? m[4] ?? '')];
      const bad = badSeconds(a);
      if (bad) return wrong(bad);
      if (a !== b) return wrong(`Left and right have the same time in a plan; here one has ${longS(a)} and the other ${longS(b)}. Write one length and "a side".`);
      Object.assign(fieldsOf(t), { work: a, sides: 'full' });
      return says(`${longS(a)} each side`);
    },
  },
  {
    re: re('(?:e\\.?/?s\\.?|(?:/|ea\\.?|on each|on both|both|each|every|per|a) ?(?:sides?|legs?|arms?|ways?|directions?)(?! at once)|l ?[/+&] ?r|r ?[/+&] ?l|left (?:and|&|\\+|then) right|right (?:and|&|\\+|then) left)'), scope: 'both',
    take: (m, t) => {
      fieldsOf(t).sides = 'full';
      if (t.item) t.item.perSide = { from: t.from, to: t.to, loose: /^(?:on )?both/i.test(m[0]) };
      return says('each side');
    },
  },
  simple('(?:till|until|to) go', 'both', 'ends on go', (t) => { fieldsOf(t).ends = 'go'; }),
];
