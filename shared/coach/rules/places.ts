/** Owns the rules about where bodies are: changes of position, the floor, and what nobody has seen. */
import { onFloor } from '../../movement/movement.ts';
import { factsFor } from '../../plan/facts.ts';
import { showWay } from '../../plan/pieces.ts';
import { setUpNeedMs } from '../../plan/positions.ts';
import { forWhom } from '../groups.ts';
import { betterOrderOf, floorChanges } from '../order.ts';
import { at, COMMON, type Found, type Rule, sectionsOf } from '../rule.ts';
import { long, many, sectionWords, small, some, unique } from '../words.ts';

const positionWords: Readonly<Record<string, string>> = {
  standing: 'standing', chair: 'the chair', kneeling: 'kneeling', 'all-fours': 'all fours', plank: 'the plank', seated: 'sitting on the floor',
  'face-up': 'lying on the back', 'face-down': 'lying face down', 'side-lying': 'lying on the side',
};

const hurriedChange: Rule = {
  id: 'change-without-time', grade: 'think again',
  reason: 'Who is hurried to or from the floor falls, or is not ready when the work begins.',
  source: `5 to 8 s to or from the floor, older adults 10 and more: ${COMMON}`,
  find: (s) => {
    if (!s.plan.sections.some((x) => x.setUp !== undefined || x.items.some((i) => i.setUp !== undefined))) return [];
    let position: ReturnType<typeof factsFor>['end'] = 'standing';
    const seen = new Set<string>();
    return s.compiled.intervals.flatMap((i, k): Found[] => {
      const ids = i.prompts ?? (i.movement ? [i.movement] : []);
      if (i.kind === 'talk' || i.kind === 'show') position = 'standing';
      if (i.kind !== 'work' || !ids[0] || i.stations) return [];
      const before = s.compiled.intervals[k - 1];
      const start = factsFor(s.facts, ids[0]).start;
      const from = position;
      position = factsFor(s.facts, ids.at(-1) ?? '').end;
      const need = onFloor(from) === onFloor(start) && from === start ? 0 : setUpNeedMs(from, start, s.group);
      const has = before?.kind === 'set-up' ? before.lengthMs : before?.kind === 'other-side' ? before.lengthMs : 0;
      const section = s.plan.sections[i.section];
      const said = section?.items[Math.max(0, i.item)]?.setUp ?? section?.setUp;
      const key = `${i.section}.${i.item}`;
      if (said === undefined || before?.kind === 'other-side' || has >= need || seen.has(key) || !section) return [];
      seen.add(key);
      const own = section.items[i.item]?.setUp !== undefined && i.item >= 0;
      return [{
        where: at(s.plan, i.section, Math.max(0, i.item)),
        sentence: `${sectionWords(section)}: ${long(has)} to get from ${positionWords[from]} to ${positionWords[start]} for ${factsFor(s.facts, ids[0]).name.toLowerCase()}; bodies need ${long(need)}. Take the set-up out of the plan, and the clock gives them their time.`,
        mend: { says: 'Give the time it takes', edits: [own
          ? { do: 'set-item', section: section.id, item: i.item, fields: { setUp: null } }
          : { do: 'set', section: section.id, fields: { setUp: null } }] },
      }];
    });
  },
};

const addedTime: Rule = {
  id: 'rest-too-short-to-move', grade: 'for your information',
  reason: 'The clock adds what bodies need to get there; a 40/20 is then no minute any more.',
  source: `set-up times by position: ${COMMON}`,
  find: (s) => s.plan.sections.flatMap((section, index): Found[] => {
    if (!section.rest || section.kind !== 'main') return [];
    const first = new Set(s.compiled.intervals.flatMap((i, k) => (s.compiled.intervals[k - 1]?.kind === 'show' || s.compiled.intervals[k - 2]?.kind === 'show' ? [i.id] : [])));
    const rests = s.compiled.added.filter((a) => a.before.startsWith(`${index}.`) && !first.has(a.before) && !a.before.startsWith(`${index}.1.0.`));
    const ms = rests.reduce((sum, a) => sum + a.ms, 0);
    if (ms < 5_000) return [];
    return [{
      where: at(s.plan, index),
      sentence: `${sectionWords(section)}: a rest of ${long(section.rest * 1_000)} is too short to change position ${many(rests.length, 'time')}; the clock adds ${long(ms)} in all. Rest longer, or keep what is on the floor together.`,
    }];
  }),
};

const upAndDown: Rule = {
  id: 'up-and-down', grade: 'think again',
  reason: 'Getting down and up again takes 8 s and more each time, and it is the hardest movement of the class for some.',
  source: COMMON,
  find: (s) => {
    const changes = floorChanges(s);
    const careful = s.group === 'older-adults' || s.group === 'pregnancy' || s.group === 'returning';
    const most = careful ? 4 : Math.max(6, Math.ceil(s.lengthMs / 240_000));
    if (changes <= most) return [];
    const better = betterOrderOf(s);
    const says = `The class goes between floor and standing ${many(changes, 'time')}; ${most} at most is kind to ${forWhom[s.group]}.`;
    if (!better) return [{ where: {}, sentence: `${says} No other order within the sections has fewer: choose standing movements, or give the floor a section of its own.` }];
    return [{ where: {}, sentence: `${says} ${better.sentence}`, mend: { says: `Take this order: ${many(better.to, 'change')}`, edits: better.edits } }];
  },
};

const noFloorOption: Rule = {
  id: 'no-way-without-floor', grade: 'for your information',
  reason: 'Some people cannot get down to the floor or up from it; they need to know what they do instead.',
  source: COMMON,
  find: (s) => {
    if (s.group !== 'older-adults' && s.group !== 'returning') return [];
    const low = unique(s.works.filter((w) => onFloor(w.movement.start)).map((w) => w.movement));
    if (low.length === 0) return [];
    const without = low.filter((m) => !m.forNeeds['no-floor']);
    return [{
      where: {},
      sentence: without.length > 0
        ? `${some(without.map(small))} ${without.length === 1 ? 'is' : 'are'} done on the floor and the library has no way to do ${without.length === 1 ? 'it' : 'them'} standing or on a chair. Choose others for ${forWhom[s.group]}, or leave them out.`
        : `${many(low.length, 'movement')} ${low.length === 1 ? 'is' : 'are'} done on the floor (${some(low.map(small))}). Say what is done instead: for ${small(low[0] as never)}, "${low[0]?.forNeeds['no-floor']?.words}".`,
    }];
  },
};

const shortShow: Rule = {
  id: 'show-too-short', grade: 'for your information',
  reason: 'A movement is shown once whole and once with what to look for; that takes about 10 s.',
  source: COMMON,
  find: (s) => s.plan.sections.flatMap((section, index): Found[] => {
    const shows = s.compiled.intervals.filter((i) => i.section === index && i.kind === 'show');
    const short = shows.filter((i) => i.lengthMs < 10_000);
    if (short.length === 0) return [];
    const least = short.reduce((a, i) => Math.min(a, i.lengthMs), Number.POSITIVE_INFINITY);
    const inRest = showWay(section) === 'in-the-rest';
    return [{
      where: at(s.plan, index),
      sentence: `${sectionWords(section)}: ${long(least)} to show ${some(unique(short.map((i) => factsFor(s.facts, i.movement ?? '').name.toLowerCase())))}. ${inRest ? 'Rest longer, or show each one before its round.' : 'Plan at least 10 s.'}`,
      ...(inRest || section.showEstimate >= 10 ? {} : { mend: { says: 'Plan 15 s for each show', edits: [{ do: 'set', section: section.id, fields: { showEstimate: 15 } }] } }),
    }];
  }),
};

const neverShown: Rule = {
  id: 'never-shown', grade: 'for your information',
  reason: 'Who sees a movement for the first time while the clock runs looks at the neighbour.',
  source: COMMON,
  find: (s) => {
    const seen = new Set<string>();
    const found = new Map<number, Set<string>>();
    for (const i of s.compiled.intervals) {
      const ids = i.prompts ?? i.stations?.movements ?? (i.movement ? [i.movement] : []);
      const kind = s.plan.sections[i.section]?.kind;
      if (i.kind === 'work' && kind === 'main' && !i.prompts) for (const id of ids) if (!seen.has(id)) found.set(i.section, (found.get(i.section) ?? new Set()).add(id));
      if (i.kind === 'show' || i.kind === 'work') for (const id of ids) seen.add(id);
    }
    return [...found].map(([index, ids]): Found => {
      const section = s.plan.sections[index];
      const names = [...ids].map((id) => factsFor(s.facts, id).name.toLowerCase());
      return {
        grade: s.group === 'general' ? 'for your information' : 'think again', where: at(s.plan, index),
        sentence: `${section ? sectionWords(section) : ''}: nobody has time to see ${some(names)} before ${names.length === 1 ? 'it is' : 'they are'} done. Show ${names.length === 1 ? 'it' : 'them'} first, or put ${names.length === 1 ? 'it' : 'them'} into the warm-up.`,
        ...(section && section.way !== 'follow-me' ? { mend: { says: 'Show each one first', edits: [
          { do: 'set', section: section.id, fields: { show: section.way === 'stations' ? 'all-first' : 'each' } },
          ...section.items.flatMap((item, k) => (item.show === false ? [{ do: 'set-item' as const, section: section.id, item: k, fields: { show: null } }] : [])),
        ] } } : {}),
      };
    });
  },
};

const manyInARound: Rule = {
  id: 'many-in-a-round', grade: 'for your information',
  reason: 'More than eight movements in a round are more than a room remembers; the screen says them, but people wait for it.',
  source: `${COMMON}; published circuits have up to 12 (Klika and Jordan 2013)`,
  find: (s) => sectionsOf(s, 'main').flatMap(({ section, index }): Found[] => {
    const n = section.items.length;
    const most = s.group === 'general' ? 12 : 8;
    if (section.way !== 'together' || n <= most) return [];
    return [{ where: at(s.plan, index), sentence: `${sectionWords(section)}: ${many(n, 'movement')} in one round. Up to ${most} can be remembered by ${forWhom[s.group]}; make two sections of it.` }];
  }),
};

export const places: readonly Rule[] = [hurriedChange, addedTime, upAndDown, noFloorOption, shortShow, neverShown, manyInARound];
