/** Owns telling two plans apart in sentences, section by section. */
import type { Library } from '../movement/movement.ts';
import type { Item, Plan, Rounds, Section } from '../plan/plan.ts';
import { longS, many, sectionWords } from './words.ts';

const roundsWords = (r: Rounds): string =>
  typeof r === 'number' ? many(r, 'round') : 'seconds' in r ? `a ladder of ${r.seconds.join(', ')} s` : `a ladder of ${r.reps.join(', ')} reps`;
const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
const timed = [['work', 'Work'], ['rest', 'Rest'], ['setUp', 'Set-up'], ['talk', 'Talk'], ['showEstimate', 'Each show']] as const;

/** What is different from one plan to the other; sections are matched by their id. */
export function differencesOf(from: Plan, to: Plan, library: Library): string[] {
  const nameOf = (item: Item | undefined): string => library.get(item?.movement ?? '')?.name ?? item?.movement ?? 'nothing';
  const out: string[] = [];
  const was = new Map(from.sections.map((s) => [s.id, s]));
  for (const b of to.sections) {
    const a = was.get(b.id);
    if (a) out.push(...sectionDifferences(a, b, nameOf));
    else out.push(`${sectionWords(b)} is new.`);
  }
  for (const a of from.sections) if (!to.sections.some((b) => b.id === a.id)) out.push(`${sectionWords(a)} is taken out.`);
  return out;
}

function sectionDifferences(a: Section, b: Section, nameOf: (i: Item | undefined) => string): string[] {
  const say = (words: string): string => `${sectionWords(b)}: ${words}`;
  const out: string[] = [];
  if (!same(a.rounds, b.rounds)) out.push(say(`${roundsWords(b.rounds)} instead of ${roundsWords(a.rounds)}.`));
  for (const [field, words] of timed) {
    if (a[field] !== b[field]) out.push(say(`${words} ${b[field] === undefined ? 'is not said any more' : longS(b[field])} instead of ${a[field] === undefined ? 'what it takes' : longS(a[field])}.`));
  }
  const moved = a.items.length === b.items.length && same([...a.items.map((i) => i.movement)].sort(), [...b.items.map((i) => i.movement)].sort());
  if (moved && !same(a.items.map((i) => i.movement), b.items.map((i) => i.movement))) out.push(say(`in the order ${b.items.map((i) => nameOf(i).toLowerCase()).join(', ')}.`));
  else {
    for (let k = 0; k < Math.max(a.items.length, b.items.length); k += 1) {
      const [x, y] = [a.items[k], b.items[k]];
      if (x && !y) out.push(say(`${nameOf(x)} is taken out.`));
      else if (y && !x) out.push(say(`${nameOf(y)} is new.`));
      else if (x && y && x.movement !== y.movement) out.push(say(`${nameOf(y)} instead of ${nameOf(x).toLowerCase()}.`));
      else if (x && y && x.work !== y.work) out.push(say(`${nameOf(y)} ${y.work === undefined ? 'as long as the others' : longS(y.work)} instead of ${x.work === undefined ? 'as long as the others' : longS(x.work)}.`));
    }
  }
  return out;
}
