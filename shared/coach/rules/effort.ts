/** Owns the rules about how hard a class is, where, and against which rest. */
import { STANDING_MET } from '../../effort/energy.ts';
import { forWhom } from '../groups.ts';
import type { Study, Work } from '../study.ts';
import { at, COMMON, type Found, type Rule, sectionsOf } from '../rule.ts';
import { and, long, many, sectionWords, small, total, unique } from '../words.ts';

/** 3 to 5.9 METs is moderate, 6 and more vigorous (WHO 2020; Physical Activity Guidelines for Americans 2018). */
const VIGOROUS = 6;
const METS = 'METs of the 2024 Adult Compendium (Herrmann et al., J Sport Health Sci 13(1)); vigorous from 6 on (WHO 2020)';
const PROTOCOLS = 'published protocols run from 1:8 (30 s, 4 min: Bayati et al. 2011, J Sports Sci Med 10:571-6) over 1:1 (Machado et al. 2022, Front Physiol 13:912890) to 2:1 (20 s, 10 s: Tabata et al. 1996, Med Sci Sports Exerc 28(10):1327-30); none has less rest at such work';

const meanMet = (works: readonly Work[]): number => {
  const ms = total(works, (w) => w.ms);
  return ms === 0 ? STANDING_MET : total(works, (w) => w.movement.intensity.met * w.ms) / ms;
};
/** Milliseconds of a section in which nobody works, shows left out: they end on go. */
const restIn = (s: Study, index: number): number =>
  total(s.compiled.intervals.filter((i) => i.section === index && (i.kind === 'rest' || i.kind === 'set-up' || i.kind === 'other-side')), (i) => i.lengthMs);
const one = (met: number): string => met.toFixed(1);

const workToRest: Rule = {
  id: 'work-to-rest', grade: 'think again',
  reason: 'Hard work without rest becomes slow, careless work; light work with long rests lets everybody get cold.',
  source: `${PROTOCOLS}; for light work common practice, no source`,
  find: (s) => sectionsOf(s, 'main').flatMap(({ index, section }): Found[] => {
    const works = s.worksOf[index] ?? [];
    const work = total(works, (w) => w.ms);
    // The rest after the last work lies before the next section.
    const rest = restIn(s, index) + (section.rest ?? 0) * 1_000;
    if (section.way === 'follow-me' || works.length < 3) return [];
    const met = meanMet(works);
    const rounds = typeof section.rounds === 'number' ? section.rounds : 1;
    if (met >= VIGOROUS && work > 2.05 * rest && work > 120_000) {
      const needs = Math.ceil((work / 2 - rest) / Math.max(1, works.length) / 1_000 / 5) * 5;
      return [{
        where: at(s.plan, index),
        sentence: `${sectionWords(section)}: ${long(work)} of hard work (${one(met)} METs) with ${long(rest)} of rest, ${rest === 0 ? 'no rest at all' : `${one(work / rest)} to 1`}. Rest about ${needs} s longer after each movement, or take easier movements.`,
        ...(section.way === 'together' && rounds > 0 ? { mend: { says: `Rest ${needs} s longer`, edits: [{ do: 'set', section: section.id, fields: { rest: (section.rest ?? 0) + needs } }] } } : {}),
      }];
    }
    if (met < 4 && rest > 2 * work && rest > 120_000) {
      return [{
        grade: 'for your information', where: at(s.plan, index),
        sentence: `${sectionWords(section)}: ${long(rest)} of rest for ${long(work)} of light work (${one(met)} METs). People get cold; shorten the rest or let them walk.`,
      }];
    }
    return [];
  }),
};

const hardWarmUp: Rule = {
  id: 'hard-warm-up', grade: 'think again',
  reason: 'A warm-up is low to moderate.',
  source: `ACSM Guidelines (as quoted elsewhere); ${METS}`,
  find: (s) => sectionsOf(s, 'warm-up').flatMap(({ index, section }): Found[] => {
    const met = meanMet(s.worksOf[index] ?? []);
    if (met < VIGOROUS) return [];
    const hard = unique((s.worksOf[index] ?? []).filter((w) => w.movement.intensity.met >= VIGOROUS).map((w) => small(w.movement)));
    return [{ where: at(s.plan, index), sentence: `${sectionWords(section)}: ${one(met)} METs on average is vigorous, not a warm-up (${and(hard)}). Begin with steps and marching.` }];
  }),
};

const hardCoolDown: Rule = {
  id: 'hard-cool-down', grade: 'think again',
  reason: 'In a cool-down the heart comes down; every hard movement starts that over.',
  source: METS,
  find: (s) => sectionsOf(s, 'cool-down').flatMap(({ index, section }) => unique((s.worksOf[index] ?? []).map((w) => w.item)).flatMap((item): Found[] => {
    const w = (s.worksOf[index] ?? []).find((x) => x.item === item);
    if (!w || (w.movement.intensity.met < VIGOROUS && w.movement.impact !== 'high')) return [];
    return [{
      where: at(s.plan, index, item),
      sentence: `${sectionWords(section)}: ${small(w.movement)} is hard work (${one(w.movement.intensity.met)} METs) where everybody should come down. Walk or march instead.`,
    }];
  })),
};

const easyMain: Rule = {
  id: 'easy-main', grade: 'for your information',
  reason: 'Under 3 METs is light: pleasant, but it does not count toward the weekly minutes.',
  source: `WHO 2020: 150 to 300 min a week of at least moderate activity; ${METS}`,
  find: (s) => {
    const works = s.works.filter((w) => s.plan.sections[w.section]?.kind === 'main');
    const met = meanMet(works);
    if (works.length < 3 || met >= 3 || s.group === 'older-adults' || s.group === 'returning') return [];
    return [{ where: {}, sentence: `The work of the main part is light: ${one(met)} METs on average, and moderate begins at 3. If that is not meant, put a squat, a lunge or steps between.` }];
  },
};

const stopDead: Rule = {
  id: 'stop-dead', grade: 'think again',
  reason: 'Blood pools in the legs when hard work stops at once; pressure falls and people get dizzy.',
  source: 'textbooks of exercise physiology (as quoted elsewhere); how long: common practice, no source',
  find: (s) => s.works.flatMap((w, k): Found[] => {
    const next = s.works[k + 1];
    if (w.movement.intensity.met < VIGOROUS) return [];
    const section = s.plan.sections[w.section];
    if (section?.kind !== 'main' || (next && next.section === w.section)) return [];
    const gap = next ? next.startMs - w.startMs - w.ms : 0;
    const lies = next && (next.movement.start === 'face-up' || next.movement.start === 'face-down');
    if (next && !lies) return [];
    return [{
      where: at(s.plan, w.section, w.item),
      sentence: next
        ? `After ${small(w.movement)} (${one(w.movement.intensity.met)} METs) the room lies down for ${small(next.movement)} ${gap > 0 ? `within ${long(gap)}` : 'at once'}. Walk for a minute between.`
        : `The class ends on ${small(w.movement)} (${one(w.movement.intensity.met)} METs), and then everybody stands still. End with a minute of marching.`,
    }];
  }),
};

/** Areas that a movement loads first; heart and lungs are meant to go on. */
const mainAreas = (w: Work): readonly string[] => w.movement.areas.slice(0, 2).filter((a) => a !== 'heart and lungs');

const sameArea: Rule = {
  id: 'same-area-thrice', grade: 'think again',
  reason: 'The third movement for the same muscles running is done badly; two, then something else, is done well.',
  source: COMMON,
  find: (s) => sectionsOf(s, 'main').flatMap(({ section, index }): Found[] => {
    if (section.way === 'stations') return [];
    const first = (s.worksOf[index] ?? []).filter((w) => w.round === 1);
    const round = first.filter((w, k) => first[k - 1]?.item !== w.item);
    // What follows a round is the same round again.
    const rounds = typeof section.rounds === 'number' ? section.rounds : 2;
    const chain = rounds > 1 && round.length > 2 ? [...round, ...round.slice(0, 2)] : round;
    for (let k = 0; k + 2 < chain.length; k += 1) {
      const three = chain.slice(k, k + 3);
      if (three.some((w) => w.movement.pattern === 'stretch')) continue;
      const area = mainAreas(three[0] as Work).find((a) => three.every((w) => mainAreas(w).includes(a)));
      if (!area) continue;
      const wraps = k + 2 >= round.length ? ', from one round into the next' : '';
      return [{
        where: at(s.plan, index, (three[2] as Work).item),
        sentence: `${sectionWords(section)}: ${and(three.map((w) => small(w.movement)))} load the ${area} three times running${wraps}. Put another movement between them.`,
      }];
    }
    return [];
  }),
};

const longWithoutBreak: Rule = {
  id: 'long-without-break', grade: 'for your information',
  reason: 'After twenty minutes of work people look for their bottle; a break that is planned is shorter than one that is not.',
  source: COMMON,
  find: (s) => {
    let from: number | null = null;
    for (let k = 0; k < s.compiled.intervals.length; k += 1) {
      const i = s.compiled.intervals[k];
      if (!i) continue;
      const at0 = s.starts[k] ?? 0;
      const kind = s.plan.sections[i.section]?.kind;
      if (i.kind === 'talk' || (i.kind === 'rest' && i.lengthMs >= 45_000) || kind !== 'main') from = null;
      else from ??= at0;
      if (from !== null && at0 + i.lengthMs - from > 1_200_000) {
        return [{
          where: at(s.plan, i.section),
          sentence: `${sectionWords(s.plan.sections[i.section] as never)}: more than 20 min of the main part go by without a break of 45 s or more. Put a minute for water in the middle.`,
        }];
      }
    }
    return [];
  },
};

const pushNoPull: Rule = {
  id: 'push-without-pull', grade: 'for your information',
  reason: 'Push-ups and dips close the shoulders; rows open them again. Most people push all day.',
  source: COMMON,
  find: (s) => {
    const of = (p: string) => total(s.works.filter((w) => s.plan.sections[w.section]?.kind === 'main' && w.movement.pattern === p), (w) => w.ms);
    const push = of('push');
    const pull = of('pull');
    if (push < 120_000 || push <= 2 * pull) return [];
    return [{ where: {}, sentence: `The main part pushes for ${long(push)} and pulls for ${long(pull)}. Change one push for a row or a lying pull.` }];
  },
};

const longHold: Rule = {
  id: 'long-hold', grade: 'think again',
  reason: 'Long still holds drive the blood pressure up, and people hold their breath in them.',
  source: 'Klika and Jordan 2013, ACSM Health Fit J 17(3):8-13, warn of isometric holds with high blood pressure (as quoted elsewhere); the lengths are common practice, no source',
  find: (s) => {
    const mostS = s.group === 'general' ? 60 : 30;
    const seen = new Set<string>();
    return s.works.flatMap((w): Found[] => {
      const section = s.plan.sections[w.section];
      if (!w.movement.hold || w.movement.pattern === 'stretch' || w.movement.pattern === 'balance' || w.ms <= mostS * 1_000 || section?.kind !== 'main') return [];
      const key = `${w.section}.${w.item}`;
      if (seen.has(key)) return [];
      seen.add(key);
      return [{
        where: at(s.plan, w.section, w.item),
        sentence: `${sectionWords(section)}: ${small(w.movement)} is held for ${long(w.ms)}${w.side ? ' a side' : ''}; ${long(mostS * 1_000)} at most for ${forWhom[s.group]}. Hold it shorter, in ${many(Math.ceil(w.ms / (mostS * 1_000)), 'part')}, and say "breathe".`,
      }];
    });
  },
};

const quickBlock: Rule = {
  id: 'prompts-too-quick', grade: 'think again',
  reason: 'In a block the room follows by eye; under 15 s a movement it is still looking when the next one comes.',
  source: COMMON,
  find: (s) => s.plan.sections.flatMap((section, index): Found[] => {
    const w = (s.worksOf[index] ?? [])[0];
    if (section.way !== 'follow-me' || !w || w.ms >= 15_000 || section.items.length < 2) return [];
    return [{
      where: at(s.plan, index),
      sentence: `${sectionWords(section)}: ${many(section.items.length, 'movement')} in ${long(w.ms * section.items.length)} are ${long(w.ms)} each. Give the block ${long(section.items.length * 20_000)}, or take ${many(Math.max(1, Math.floor(w.ms * section.items.length / 20_000)), 'movement')}.`,
    }];
  }),
};

export const effort: readonly Rule[] = [
  workToRest, hardWarmUp, hardCoolDown, easyMain, stopDead, sameArea, longWithoutBreak, pushNoPull, longHold, quickBlock,
];
