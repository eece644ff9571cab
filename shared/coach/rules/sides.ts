/** Owns the rules about left and right. */
import { factsFor } from '../../plan/facts.ts';
import { sidesWay } from '../../plan/pieces.ts';
import type { Work } from '../study.ts';
import { at, COMMON, type Found, type Rule } from '../rule.ts';
import { and, long, many, sectionWords, small, total } from '../words.ts';

const sideMs = (works: readonly Work[], side: 'left' | 'right') => total(works, (w) => (w.side === side ? w.ms : 0));

const uneven: Rule = {
  id: 'sides-uneven', grade: 'think again',
  reason: 'Both sides are owed the same; the second one is the one that is lost when time is short.',
  source: COMMON,
  find: (s) => s.plan.sections.flatMap((section, index) => section.items.flatMap((_, i): Found[] => {
    const works = (s.worksOf[index] ?? []).filter((w) => w.item === i && w.side);
    const left = sideMs(works, 'left');
    const right = sideMs(works, 'right');
    const m = works[0]?.movement;
    if (!m || left === right) return [];
    const less = left < right ? 'left' : 'right';
    const rounds = works.length;
    return [{
      where: at(s.plan, index, i),
      sentence: `${sectionWords(section)}, ${small(m)} over ${many(rounds, 'round')}: left ${long(left)}, right ${long(right)}. Add ${long(Math.abs(left - right))} on the ${less}, plan an even number of rounds, or halve it.`,
      mend: { says: 'Halve it each round', edits: [{ do: 'set-item', section: section.id, item: i, fields: { sides: 'half' } }] },
    }];
  })),
};

const notSaid: Rule = {
  id: 'sides-not-said', grade: 'think again',
  reason: 'A movement that is done one side at a time, planned as if it were both, leaves the room guessing when to change.',
  source: COMMON,
  find: (s) => s.plan.sections.flatMap((section, index) => section.way !== 'together' ? [] : section.items.flatMap((item, i): Found[] => {
    const m = s.library.get(item.movement);
    if (m?.sides !== 'each' || sidesWay(section, item, s.facts) !== 'together') return [];
    return [{
      where: at(s.plan, index, i),
      sentence: `${sectionWords(section)}: ${small(m)} is done one side at a time, but the plan never says when to change. Halve it, so that the clock says "other side".`,
      mend: { says: 'Halve it', edits: [{ do: 'set-item', section: section.id, item: i, fields: { sides: 'half' } }] },
    }];
  })),
};

const noSides: Rule = {
  id: 'sides-without-need', grade: 'for your information',
  reason: 'Two sides of a movement that has none take time to change and confuse the room.',
  source: 'the movement library',
  find: (s) => s.plan.sections.flatMap((section, index) => section.way !== 'together' ? [] : section.items.flatMap((item, i): Found[] => {
    const m = s.library.get(item.movement);
    const way = sidesWay(section, item, s.facts);
    if (m?.sides !== 'together' || way === 'together' || way === 'alternating') return [];
    // A whole section of stretches a side may hold one that is not: it says so itself only if it was said of it.
    const said = item.sides ? 'it is planned' : 'the section makes it';
    return [{
      where: at(s.plan, index, i),
      sentence: `${sectionWords(section)}: ${small(m)} works both sides at once, and ${said} one side at a time. Plan it together.`,
      mend: { says: 'Do it together', edits: [{ do: 'set-item', section: section.id, item: i, fields: { sides: 'together' } }] },
    }];
  })),
};

const hiddenSides: Rule = {
  id: 'sides-in-one-slot', grade: 'for your information',
  reason: 'Stations and follow-me blocks do not count the sides; who is not told changes too late or not at all.',
  source: 'common practice, no source; three of the twelve stations of Klika and Jordan 2013 (ACSM Health Fit J 17(3):8-13) are such movements in one slot of 30 s',
  find: (s) => s.plan.sections.flatMap((section, index): Found[] => {
    if (section.way === 'together') return [];
    const one = section.items.filter((i) => s.library.get(i.movement)?.sides === 'each').map((i) => factsFor(s.facts, i.movement).name.toLowerCase());
    const first = (s.worksOf[index] ?? []).find((w) => w.movement.sides === 'each');
    if (!first) return [];
    return [{
      where: at(s.plan, index),
      sentence: `${sectionWords(section)}: ${and([...new Set(one)])} ${one.length === 1 ? 'is' : 'are'} done one side at a time, and the clock does not say when to change here. Call the change yourself after ${long(first.ms / 2)}.`,
    }];
  }),
};

const oneLead: Rule = {
  id: 'lead-never-changes', grade: 'for your information',
  reason: 'The side that comes second is done tired; changing the lead each round shares that out.',
  source: COMMON,
  find: (s) => s.plan.sections.flatMap((section, index) => section.items.flatMap((_, i): Found[] => {
    const works = (s.worksOf[index] ?? []).filter((w) => w.item === i && w.side);
    const firsts = [1, 2, 3].flatMap((r) => works.find((w) => w.round === r)?.side ?? []);
    const m = works[0]?.movement;
    if (!m || works.length < 6 || firsts.length < 3 || new Set(firsts).size > 1) return [];
    return [{
      where: at(s.plan, index, i),
      sentence: `${sectionWords(section)}: ${small(m)} begins on the ${firsts[0]} in every round. Let the lead change, so that the other side is not always the tired one.`,
      mend: { says: 'Change the lead each round', edits: [{ do: 'set-item', section: section.id, item: i, fields: { lead: 'changes' } }] },
    }];
  })),
};

export const sides: readonly Rule[] = [uneven, notSaid, noSides, hiddenSides, oneLead];
