/**
 * Owns the rules about who comes. They speak of a label of the class, never of a
 * person, ask before they forbid, and give way to what somebody's midwife, doctor
 * or physiotherapist has said.
 */
import { type Movement, type Need, onFloor } from '../../movement/movement.ts';
import { ASK_FIRST, forWhom } from '../groups.ts';
import type { Study, Work } from '../study.ts';
import { at, COMMON, type Found, type Rule } from '../rule.ts';
import { long, many, sectionWords, small, some, total, unique } from '../words.ts';

const firstsOf = new WeakMap<Study, Work[]>();
/** Each movement of the plan at its first place in each section. */
function firsts(s: Study): Work[] {
  const known = firstsOf.get(s);
  if (known) return known;
  const seen = s.plan.sections.map(() => new Set<Movement>());
  const found = s.works.filter((w) => !seen[w.section]?.has(w.movement) && seen[w.section]?.add(w.movement));
  firstsOf.set(s, found);
  return found;
}
const isOf = (s: Study, ...groups: Study['group'][]): boolean => groups.includes(s.group);

/** What the library offers in place of it for a need, as words and as a change. */
function instead(s: Study, w: Work, need: Need): { words: string; mend?: Found['mend'] } {
  const way = w.movement.forNeeds[need];
  const other = way?.movement === undefined ? undefined : s.library.get(way.movement);
  const section = s.plan.sections[w.section];
  if (other && other.id !== w.movement.id) return {
    words: `Offer ${small(other)} instead`,
    ...(section ? { mend: { says: `Take ${small(other)}`, edits: [{ do: 'movement', section: section.id, item: w.item, movement: other.id }] } } : {}),
  };
  return { words: way && way.words !== 'As shown' ? `Offer it as "${way.words}"` : 'Leave it out, or ask' };
}

const place = (s: Study, w: Work): string => {
  const section = s.plan.sections[w.section];
  return section ? sectionWords(section) : '';
};

function impactRule(id: string, group: Study['group'], need: Need, reason: string, source: string): Rule {
  return {
    id, grade: 'think again', reason, source,
    find: (s) => !isOf(s, group) ? [] : firsts(s).filter((w) => w.movement.impact === 'high').map((w): Found => {
      const { words, mend } = instead(s, w, need);
      return {
        where: at(s.plan, w.section, w.item),
        sentence: `${place(s, w)}: ${small(w.movement)} lands hard, and this is ${forWhom[group]}. ${words}. ${ASK_FIRST}`,
        ...(mend ? { mend } : {}),
      };
    }),
  };
}

const olderImpact = impactRule('impact-for-older-adults', 'older-adults', 'no-jumping', 'Landing asks for balance and bone that not everybody has; a fall costs more than a jump gives.', `${COMMON}; caution for older people in very intense circuits: Klika and Jordan 2013 (as quoted elsewhere)`);
const returningImpact = impactRule('impact-when-returning', 'returning', 'no-jumping', 'After an injury, landing comes back last, and somebody who knows the injury says when.', COMMON);
const pregnantImpact = impactRule('impact-in-pregnancy', 'pregnancy', 'pregnancy', 'Landing loads the pelvic floor, which works for two, or is healing.', `${COMMON}; ask whoever looks after the pregnancy`);

function pregnantLying(id: string, position: 'face-up' | 'face-down', reason: string, source: string, says: string): Rule {
  return {
    id, grade: 'think again', reason, source,
    find: (s) => !isOf(s, 'pregnancy') ? [] : firsts(s).filter((w) => w.movement.start === position || w.movement.end === position).map((w): Found => {
      const { words, mend } = instead(s, w, 'pregnancy');
      return {
        where: at(s.plan, w.section, w.item),
        sentence: `${place(s, w)}: ${small(w.movement)} ${says}. ${words}. ${ASK_FIRST}`,
        ...(mend ? { mend } : {}),
      };
    }),
  };
}
const onTheBack = pregnantLying('pregnancy-on-the-back', 'face-up', 'From about the fourth month on, lying flat on the back can press on the great vein and make somebody faint.', 'the movement library\'s own cautions; common advice of midwives and doctors, from memory (ACOG Committee Opinion 804, 2020, not seen)', 'is done lying on the back, and beyond the fourth month that is not for everybody');
const faceDown = pregnantLying('pregnancy-face-down', 'face-down', 'Nobody lies on a growing belly, and nobody wants to.', COMMON, 'is done lying face down');

const bellyWall: Rule = {
  id: 'pregnancy-curling-up', grade: 'think again',
  reason: 'Curling up pushes the belly wall apart where it is stretched or healing.',
  source: 'the movement library\'s own cautions; common practice, no source',
  find: (s) => !isOf(s, 'pregnancy') ? [] : firsts(s).filter((w) => w.movement.askFirst.some((x) => /belly wall/i.test(x)) && w.movement.start !== 'face-up').map((w): Found => {
    const { words, mend } = instead(s, w, 'pregnancy');
    return { where: at(s.plan, w.section, w.item), sentence: `${place(s, w)}: ${small(w.movement)} loads the belly wall. ${words}. ${ASK_FIRST}`, ...(mend ? { mend } : {}) };
  }),
};

const askFirst: Rule = {
  id: 'ask-first', grade: 'for your information',
  reason: 'The library names for each movement who should be asked before it.',
  source: 'the movement library\'s own cautions; screening before intense work: ACSM Guidelines, 10th ed., chapter 2',
  find: (s) => {
    const careful = !isOf(s, 'general');
    const works = firsts(s).filter((w) => w.movement.askFirst.length > 0);
    const seen = unique(works.map((w) => w.movement));
    if (seen.length === 0) return [];
    const list = some(seen.map((m) => `${small(m)} ("${m.askFirst[0]}")`), 3);
    return [{
      where: {},
      sentence: `Ask in the welcome, because of ${list}.${careful ? ` ${ASK_FIRST}` : ''}`,
    }];
  },
};

const noOption: Rule = {
  id: 'no-low-impact-option', grade: 'think again',
  reason: 'Somebody in every class should not jump today; they need to know what they do meanwhile.',
  source: COMMON,
  find: (s) => firsts(s).flatMap((w): Found[] => {
    const m = w.movement;
    if (m.impact !== 'high') return [];
    const softer = [m.option.movement, m.forNeeds['no-jumping']?.movement].flatMap((id) => (id === undefined ? [] : (s.library.get(id) ?? [])));
    if (softer.some((o) => o.impact !== 'high')) return [];
    return [{
      where: at(s.plan, w.section, w.item),
      sentence: `${place(s, w)}: ${small(m)} lands hard and the library names no movement without the jump for it. Name one in its file, or choose another movement.`,
    }];
  }),
};

const hardForGroup: Rule = {
  id: 'hard-for-the-group', grade: 'think again',
  reason: 'All-out work was tried on young, screened people; a mixed or careful group is led up to it over weeks, if at all.',
  source: 'Klika and Jordan 2013 (cautions, as quoted elsewhere); Tabata 1996 was measured on a cycle, and whether 160 s of it can be done is doubted: Viana et al. 2018, Physiol Behav 189:10-15',
  find: (s) => {
    const main = s.works.filter((w) => s.plan.sections[w.section]?.kind === 'main');
    const hard = main.filter((w) => w.movement.intensity.met >= (isOf(s, 'general') ? 10 : 6));
    const ms = total(hard, (w) => w.ms);
    const most = isOf(s, 'general') ? 480_000 : 120_000;
    const first = hard[0];
    if (!first || ms <= most) return [];
    return [{
      where: at(s.plan, first.section, first.item),
      sentence: `${long(ms)} of very hard work (${some(unique(hard.map((w) => small(w.movement))))}) are much for ${forWhom[s.group]}. Keep it to ${long(most)}, or take the options and let people choose.`,
    }];
  },
};

const noBalance: Rule = {
  id: 'older-adults-balance', grade: 'think again',
  reason: 'From 65 on, balance and strength together on three days a week keep people from falling.',
  source: 'WHO guidelines 2020 (as quoted elsewhere)',
  find: (s) => {
    if (!isOf(s, 'older-adults') || s.works.length === 0) return [];
    const balance = (m: Movement): boolean => m.pattern === 'balance' && m.start === 'standing';
    const oneLeg = s.works.filter((w) => balance(w.movement) || w.movement.id.startsWith('single-leg'));
    const ms = total(oneLeg.filter((w) => !onFloor(w.movement.start)), (w) => w.ms);
    if (ms >= 60_000) return [];
    return [{
      where: {},
      sentence: `${ms === 0 ? 'There is no balance work in this class' : `There are only ${long(ms)} of balance work in this class`}, and it is for older adults. Add a minute or more, such as a single-leg balance with a hand on a wall.`,
    }];
  },
};

const noStrength: Rule = {
  id: 'older-adults-strength', grade: 'for your information',
  reason: 'From 65 on, strength belongs to it, legs first: standing up from a chair is what keeps people at home.',
  source: 'WHO guidelines 2020 (as quoted elsewhere); which movement: common practice, no source',
  find: (s) => {
    if (!isOf(s, 'older-adults') || s.works.length === 0) return [];
    const legs = total(s.works.filter((w) => ['squat', 'lunge', 'hinge'].includes(w.movement.pattern)), (w) => w.ms);
    return legs >= 60_000 ? [] : [{
      where: {}, sentence: `${legs === 0 ? 'Nothing' : `Only ${long(legs)}`} in this class makes legs strong, and it is for older adults. Add sit to stand, ${many(2, 'round')} of half a minute.`,
    }];
  },
};

export const groupRules: readonly Rule[] = [
  pregnantImpact, onTheBack, faceDown, bellyWall, olderImpact, returningImpact, noOption, hardForGroup, noBalance, noStrength, askFirst,
];
