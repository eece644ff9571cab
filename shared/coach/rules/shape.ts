/** Owns the rules about the shape of a class: warm-up, cool-down, stretches, the welcome. */
import { SECTIONS_MAX } from '../../limits.ts';
import { type Section, sectionSchema } from '../../plan/plan.ts';
import type { Study } from '../study.ts';
import { at, COMMON, type Found, type Rule, sectionsOf } from '../rule.ts';
import { long, longS, sectionWords, small, total } from '../words.ts';

const ACSM = 'ACSM Guidelines for Exercise Testing and Prescription: 5 to 10 min each, low to moderate (as quoted elsewhere, book not seen)';
const GARBER = 'Garber et al. 2011, ACSM position stand, Med Sci Sports Exerc 43:1334-59: 10 to 30 s for most adults, 30 to 60 s for older adults (as quoted elsewhere)';
const FIVE_MIN = 300_000;
/** Below this a class is too short for five minutes at each end: then a fifth of it is asked for. */
const SHORT_CLASS_MS = 1_500_000;

/** Milliseconds from the first to the last interval of the sections of a kind, rests and set-ups included. */
const spanOf = (s: Study, kind: 'warm-up' | 'cool-down'): number =>
  total(s.compiled.intervals.filter((i) => s.plan.sections[i.section]?.kind === kind && i.kind !== 'show'), (i) => i.lengthMs);
const askedMs = (s: Study): number => (s.lengthMs < SHORT_CLASS_MS ? Math.min(FIVE_MIN, s.lengthMs / 5) : FIVE_MIN);
const hasMain = (s: Study): boolean => s.plan.sections.some((x) => x.kind === 'main' && x.items.length > 0);

const noWarmUp: Rule = {
  id: 'no-warm-up', grade: 'think again',
  reason: 'Muscles, joints and heart are asked for a few easy minutes before they are asked for much.',
  source: ACSM,
  find: (s) => (!hasMain(s) || spanOf(s, 'warm-up') > 0 ? [] : [{
    where: {}, sentence: `There is no warm-up before ${sectionWords(s.plan.sections.find((x) => x.kind === 'main' && x.items.length > 0) as never)}. Begin with ${long(Math.round(askedMs(s) / 30_000) * 30_000)} of easy movements that grow larger.`,
  }]),
};

const shortWarmUp: Rule = {
  id: 'short-warm-up', grade: 'think again',
  reason: 'A warm-up of a minute or two has not begun to warm anybody.',
  source: `${ACSM}; a fifth of a class under 25 min: common practice, no source`,
  find: (s) => shortSpan(s, 'warm-up'),
};

const noCoolDown: Rule = {
  id: 'no-cool-down', grade: 'think again',
  reason: 'Whoever stops dead after hard work may get dizzy: blood stays in the legs. Slow down instead.',
  source: 'textbooks of exercise physiology (as quoted elsewhere); how long: ACSM Guidelines, 5 to 10 min',
  find: (s) => (!hasMain(s) || spanOf(s, 'cool-down') > 0 ? [] : [{
    where: {}, sentence: `There is no cool-down: the class ends with ${sectionWords(s.plan.sections.findLast((x) => x.items.length > 0) as never)}. Add ${long(Math.round(askedMs(s) / 30_000) * 30_000)} of easy movement and stretches.`,
  }]),
};

const shortCoolDown: Rule = {
  id: 'short-cool-down', grade: 'think again',
  reason: 'The heart needs some minutes to come down, and stretches need their time on both sides.',
  source: `${ACSM}; a fifth of a class under 25 min: common practice, no source`,
  find: (s) => shortSpan(s, 'cool-down'),
};

function shortSpan(s: Study, kind: 'warm-up' | 'cool-down'): Found[] {
  const has = spanOf(s, kind);
  const asked = askedMs(s);
  const [first] = sectionsOf(s, kind);
  if (has === 0 || !first || !hasMain(s) || has >= asked) return [];
  const grade = has < asked * 0.6 ? 'think again' : 'for your information';
  const size = asked === FIVE_MIN ? '5 to 10 min are usual' : `${long(Math.round(asked / 10_000) * 10_000)} would be a fifth of this class`;
  return [{
    grade, where: at(s.plan, first.index),
    sentence: `The ${kind} takes ${long(has)}; ${size}. Add a movement or give each one longer.`,
  }];
}

const impactEarly: Rule = {
  id: 'impact-before-warm-up', grade: 'think again',
  reason: 'Tendons and ankles take landings badly while they are cold.',
  source: COMMON,
  find: (s) => {
    const k = s.works.findIndex((w) => w.movement.impact === 'high');
    const jump = s.works[k];
    if (!jump) return [];
    const before = total(s.works.slice(0, k), (w) => w.ms);
    if (before >= 120_000) return [];
    const section = s.plan.sections[jump.section];
    return [{
      where: at(s.plan, jump.section, jump.item),
      sentence: `${section ? sectionWords(section) : ''}: ${small(jump.movement)} comes after ${before === 0 ? 'no warm-up at all' : `only ${long(before)} of easier work`}, and it lands hard. Put two minutes of steps before it${jump.movement.option.movement ? `, or take ${small(s.library.get(jump.movement.option.movement) ?? jump.movement)} there` : ''}.`,
      ...(jump.movement.option.movement && s.library.has(jump.movement.option.movement) ? { mend: {
        says: `Take ${small(s.library.get(jump.movement.option.movement) ?? jump.movement)}`,
        edits: [{ do: 'movement', section: section?.id ?? '', item: jump.item, movement: jump.movement.option.movement }],
      } } : {}),
    }];
  },
};

const holdInWarmUp: Rule = {
  id: 'long-hold-in-warm-up', grade: 'think again',
  reason: 'Long still stretches before work cost strength for a while and warm nobody; short ones, or moving ones, do not.',
  source: 'Behm et al. 2016, Appl Physiol Nutr Metab 41:1-11 (from memory: losses from about 60 s a muscle on); 30 s is our margin',
  find: (s) => holds(s, 'warm-up').flatMap(({ item, index, ms, movement, side }): Found[] => ms <= 30_000 ? [] : [{
    where: at(s.plan, index, item),
    sentence: `${sectionWords(s.plan.sections[index] as never)}: ${small(movement)} is held still for ${long(ms)}${side ? ' a side' : ''} before the work. Hold it 10 to 15 s, or move in and out of it.`,
    mend: { says: 'Hold it 15 s', edits: [{ do: 'set-item', section: s.plan.sections[index]?.id ?? '', item, fields: { work: side ? 30 : 15 } }] },
  }]),
};

interface Hold { index: number; item: number; ms: number; movement: Study['works'][number]['movement']; side: boolean; way: string }
/** The still stretches of a kind of section, each once: as long as one of its rounds holds it, each side. */
function holds(s: Study, kind: 'warm-up' | 'cool-down'): Hold[] {
  return sectionsOf(s, kind).flatMap(({ section, index }) => section.items.flatMap((_, item): Hold[] => {
    const w = (s.worksOf[index] ?? []).find((x) => x.item === item);
    return w?.movement.hold && w.movement.pattern === 'stretch'
      ? [{ index, item, ms: w.ms, movement: w.movement, side: w.side !== undefined, way: w.way }] : [];
  }));
}

const stretchRange: Rule = {
  id: 'stretch-hold', grade: 'for your information',
  reason: 'Shorter holds change little; longer ones have shown little more.',
  source: GARBER,
  find: (s) => {
    const older = s.group === 'older-adults';
    const [least, most] = older ? [30, 60] : [10, 30];
    return holds(s, 'cool-down').flatMap(({ index, item, ms, movement, side, way }): Found[] => {
      if (ms >= least * 1_000 - 500 && ms <= most * 1_000 + 500) return [];
      const section = s.plan.sections[index];
      const short = ms < least * 1_000;
      const to = short ? least : most;
      return [{
        where: at(s.plan, index, item),
        sentence: `${section ? sectionWords(section) : ''}: ${small(movement)} is held for ${long(ms)}${side ? ' a side' : ''}; ${least} to ${most} s are published for ${older ? 'older adults' : 'most adults'}. ${short ? `Hold it ${longS(to)}` : `Hold it ${longS(to)}, or twice with a break`}.`,
        ...(way === 'together' && typeof section?.rounds === 'number' ? { mend: {
          says: `Hold it ${to} s${side ? ' a side' : ''}`,
          edits: [{ do: 'set-item', section: section.id, item, fields: side ? { work: to, sides: 'full' } : { work: to } }],
        } } : {}),
      }];
    });
  },
};

const noWelcome: Rule = {
  id: 'nobody-asked', grade: 'for your information',
  reason: 'Pain, pregnancy, an operation, a new medicine: people say so when they are asked, before the class, not in it.',
  source: 'ACSM Guidelines, 10th ed., chapter 2: screening asks for present activity, signs and known disease, and the intended effort',
  find: (s) => {
    const first = s.plan.sections[0];
    return s.works.length === 0 || first?.talk !== undefined ? [] : [{
      where: at(s.plan, 0),
      sentence: `The class begins with ${first ? sectionWords(first) : 'work'}; there is no time to ask who has pain, is pregnant or is new. Put a minute of welcome before it.`,
      ...(s.plan.sections.length >= SECTIONS_MAX ? {} : { mend: { says: 'Begin with a minute of welcome', edits: [{ do: 'add-section', at: 0, section: welcome(s) }] } }),
    }];
  },
};
function welcome(s: Study): Section {
  const ids = new Set(s.plan.sections.map((x) => x.id));
  const id = ['welcome', ...Array.from({ length: SECTIONS_MAX + 1 }, (_, k) => `welcome-${k + 2}`)].find((x) => !ids.has(x)) ?? 'welcome';
  return sectionSchema.parse({ id, kind: 'welcome', talk: 60 });
}

const suits: Rule = {
  id: 'not-for-this-part', grade: 'for your information',
  reason: 'The library says of each movement which part of a class it suits.',
  source: 'the movement library; common practice, no source',
  find: (s) => sectionsOf(s, 'warm-up', 'cool-down').flatMap(({ section, index }) => section.items.flatMap((item, i): Found[] => {
    const m = s.library.get(item.movement);
    // What warms up gently also cools down.
    const gentle = section.kind === 'cool-down' && m?.suits.includes('warm-up') && m.impact !== 'high';
    if (!m || gentle || m.suits.includes(section.kind as 'warm-up')) return [];
    const now = section.kind === 'warm-up' ? 'before anybody is warm' : 'when everybody should come down';
    return [{
      where: at(s.plan, index, i),
      sentence: `${sectionWords(section)}: ${small(m)} is a movement for ${m.suits.includes('main') ? 'the main part' : `the ${m.suits[0]}`} and comes ${now}. Move it, or choose a ${section.kind} movement.`,
    }];
  })),
};

export const shape: readonly Rule[] = [noWarmUp, shortWarmUp, noCoolDown, shortCoolDown, impactEarly, holdInWarmUp, stretchRange, noWelcome, suits];
