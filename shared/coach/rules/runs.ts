/** Owns the rules about whether a plan can run at all, and whether it fits its slot. */
import { CLASS_MOST_S, INTERVALS_MAX, LEAST_WORK_MS } from '../../limits.ts';
import { factsFor } from '../../plan/facts.ts';
import { problemsOf } from '../../plan/problems.ts';
import { at, COMMON, type Found, type Rule } from '../rule.ts';
import { longS, long, many, sectionWords, small } from '../words.ts';

const unknownMovement: Rule = {
  id: 'movement-unknown', grade: 'cannot run',
  reason: 'The screen has nothing to show and the clock does not know how the body gets there.',
  source: 'the studio\'s own library',
  find: (s) => s.plan.sections.flatMap((section, index) => section.items.flatMap((item, i): Found[] => s.library.has(item.movement) ? [] : [{
    where: at(s.plan, index, i),
    sentence: `${sectionWords(section)}, movement ${i + 1}: "${item.movement}" is not in the library (any more). Choose another movement, or take it out.`,
    ...(section.items.length > (section.way === 'stations' ? 2 : 1)
      ? { mend: { says: 'Take it out', edits: [{ do: 'remove', section: section.id, item: i }] } } : {}),
  }])),
};

const tooMuch: Rule = {
  id: 'too-much', grade: 'cannot run',
  reason: 'A class longer than four hours, or of thousands of intervals, is a slip of the finger.',
  source: 'our own bounds; common practice, no source',
  find: (s) => {
    if (s.compiled.intervals.length <= INTERVALS_MAX && s.lengthMs <= CLASS_MOST_S * 1_000) return [];
    if (s.works.length === 0 && s.plan.sections.some((x) => x.items.length > 0)) return [];
    const known = s.plan.sections.every((x) => x.items.every((i) => s.library.has(i.movement)));
    return known ? problemsOf(s.plan, s.facts).map((p) => ({
      where: {}, sentence: `The plan is too much: ${p.sentence} Take out rounds or movements.`,
    })) : [];
  },
};

const sideTooShort: Rule = {
  id: 'side-too-short', grade: 'cannot run',
  reason: 'In less than 3 s nobody can begin and end a movement with care.',
  source: COMMON,
  find: (s) => s.plan.sections.flatMap((section, index) => section.items.flatMap((_, i): Found[] => {
    const short = (s.worksOf[index] ?? []).find((w) => w.item === i && w.way !== 'follow-me' && w.ms < LEAST_WORK_MS);
    if (!short) return [];
    return [{
      where: at(s.plan, index, i),
      sentence: `${sectionWords(section)}, ${small(short.movement)}: ${long(short.ms)}${short.side ? ' a side' : ''} cannot be begun and ended with care. Give it at least ${longS(short.side ? 2 * LEAST_WORK_MS / 1_000 : LEAST_WORK_MS / 1_000)} of work.`,
    }];
  })),
};

const nothingToDo: Rule = {
  id: 'no-work', grade: 'think again',
  reason: 'A class in which nobody moves is a talk.',
  source: COMMON,
  find: (s) => (s.plan.sections.some((x) => x.items.length > 0) ? [] : [{
    where: {}, sentence: 'There is no movement in this plan, only talk. Add a section with movements.',
  }]),
};

const overSlot: Rule = {
  id: 'over-slot', grade: 'think again',
  reason: 'The floor has to be free at a time; what is cut in a hurry is the cool-down.',
  source: 'the plan\'s own slot',
  find: (s) => {
    if (s.slotS === null || s.lengthMs <= s.slotS * 1_000) return [];
    return [{
      where: {},
      sentence: `The plan takes ${long(s.lengthMs)} and the slot has ${longS(s.slotS)}: ${long(s.lengthMs - s.slotS * 1_000)} too long. Fit it to the slot, or take something out.`,
    }];
  },
};

const underSlot: Rule = {
  id: 'under-slot', grade: 'for your information',
  reason: 'Time left over is time for water, questions and a longer cool-down, or for one more round.',
  source: COMMON,
  find: (s) => {
    if (s.slotS === null || s.lengthMs >= s.slotS * 900) return [];
    return [{
      where: {},
      sentence: `The plan takes ${long(s.lengthMs)} of a slot of ${longS(s.slotS)}: ${long(s.slotS * 1_000 - s.lengthMs)} are left over. Fit it to the slot, or leave the time for people.`,
    }];
  },
};

const workUnderLeast: Rule = {
  id: 'work-under-least', grade: 'for your information',
  reason: 'Each movement says in the library below how many seconds it is not worth setting up for.',
  source: 'the movement library; common practice, no source',
  find: (s) => s.plan.sections.flatMap((section, index) => section.kind === 'warm-up' ? [] : section.items.flatMap((item, i): Found[] => {
    if (section.way === 'follow-me') return [];
    const works = (s.worksOf[index] ?? []).filter((w) => w.item === i && w.ms >= LEAST_WORK_MS);
    const least = works.reduce((a, w) => Math.min(a, w.ms), Number.POSITIVE_INFINITY);
    const m = works[0]?.movement;
    if (!m || item.target || section.target || typeof section.rounds === 'object' || least >= m.leastS * 1_000) return [];
    const side = works[0]?.side ? ' a side' : '';
    return [{
      where: at(s.plan, index, i),
      sentence: `${sectionWords(section)}: ${long(least)}${side} of ${small(m)} is hardly worth getting ready for. Give it ${longS(m.leastS)}${side}, or do it in fewer rounds and longer.`,
    }];
  })),
};

const repsEstimate: Rule = {
  id: 'count-and-time', grade: 'for your information',
  reason: 'Where a count ends the work, the seconds are only an estimate; a wrong one makes the end of the class wrong.',
  source: 'the tempo of the movement library; common practice, no source',
  find: (s) => s.compiled.intervals.flatMap((i): Found[] => {
    const tempo = i.movement ? factsFor(s.facts, i.movement).tempoS : undefined;
    const m = i.movement ? s.library.get(i.movement) : undefined;
    if (i.kind !== 'work' || i.round !== 1 || i.target?.of !== 'reps' || tempo === undefined || !m) return [];
    const needs = i.target.n * tempo * 1_000;
    if (i.lengthMs >= needs / 2 && i.lengthMs <= needs * 2) return [];
    return [{
      where: at(s.plan, i.section, i.item),
      sentence: `${sectionWords(s.plan.sections[i.section] as never)}: ${many(i.target.n, 'rep')} of ${small(m)} take about ${long(needs)}, and the plan says ${long(i.lengthMs)}. Set its seconds to ${longS(Math.round(needs / 1_000))}.`,
    }];
  }),
};

export const runs: readonly Rule[] = [unknownMovement, tooMuch, sideTooShort, nothingToDo, overSlot, underSlot, workUnderLeast, repsEstimate];
