/** Owns walking through the typed text: lines, parts of a line, what each token is said of. Leaves alone what a draft becomes (typed.ts). */
import { askAt, type Draft, type ItemDraft, newSection, type SectionDraft, type Understood } from './draft.ts';
import type { Finder } from './names.ts';
import { type Token, tokens } from './tokens.ts';
import { writtenTwice } from './twice.ts';

const takeOut = { label: 'Take it out', text: '' };
const bullet = /^[^\S\n]*(?:[-*•–—]|\d{1,2}[.)]|[a-h]\d{1,2}[.):]?|[☐□✓·▪])[^\S\n]+/iu;
const aboutPlan = /^[^\S\n]*(name|class|title|note)[^\S\n]*:[^\S\n]*(.*?)[^\S\n]*$/iu;

export function read(text: string, find: Finder, draft: Draft): void {
  let from = 0;
  for (const line of text.split('\n')) {
    readLine(text, from, from + line.length, find, draft);
    from += line.length + 1;
  }
}

function understood(d: Draft, from: number, to: number, says: string, what: Understood['what'], guessed = false): void {
  d.understood.push({ from, to, says, what, guessed });
}

function readLine(text: string, from: number, to: number, find: Finder, d: Draft): void {
  const line = text.slice(from, to);
  const about = aboutPlan.exec(line);
  if (about) {
    const lead = line.length - line.trimStart().length;
    const field = /note/i.test(about[1] ?? '') ? 'note' : 'name';
    const value = about[2] ?? '';
    const most = field === 'note' ? 280 : 80;
    const end = from + line.trimEnd().length;
    if (value.length === 0 || value.length > most) askAt(d, from + lead, end, `A ${field} has 1 to ${most} letters; this one has ${value.length}.`);
    else {
      d.plan[field] = value;
      understood(d, from + lead, end, `${field}: ${value}`, 'plan');
    }
    return;
  }
  const point = bullet.exec(line);
  if (point) {
    const lead = line.length - line.trimStart().length;
    understood(d, from + lead, from + point[0].trimEnd().length, '', 'mark');
  }
  const all = tokens(text, from + (point?.[0].length ?? 0), to, find);
  const colon = all.findIndex((t) => t.of === 'colon');
  if (colon >= 0) {
    const section = part(text, all.slice(0, colon), find, d, true);
    const c = all[colon] as Token;
    understood(d, c.from, c.to, '', 'mark');
    const target = section ?? d.sections.at(-1);
    if (target) target.headTo = c.from;
    parts(text, all.slice(colon + 1), find, d);
  } else parts(text, all, find, d);
}

/** The parts of a line between its commas. */
function parts(text: string, all: readonly Token[], find: Finder, d: Draft): void {
  let run: Token[] = [];
  /** The movements that a slash joins: "squat / row 40 s". */
  let joined: ItemDraft[] = [];
  const isName = (t: Token) => t.of === 'name' || t.of === 'words';
  for (let k = 0; k < all.length; k += 1) {
    const t = all[k] as Token;
    const ends = t.of === 'colon' || (t.of === 'mark' && (t.splits === 'apart' || (t.splits === 'dash' && run.some(isName) && namedBefore(all, k + 1))));
    if (ends) {
      if (run.length > 0) done(t.of === 'mark' && text.slice(t.from, t.to) === '/');
      run = [];
      understood(d, t.from, t.to, '', 'mark');
    } else run.push(t);
  }
  if (run.length > 0) done(false);

  function done(slash: boolean): void {
    const before = d.sections.flatMap((s) => s.items).length;
    part(text, run, find, d, false);
    joined.push(...d.sections.flatMap((s) => s.items).slice(before));
    if (slash) return;
    const last = joined.at(-1);
    for (const i of joined) if (last && own(i) === undefined && own(last) !== undefined) Object.assign(i, { work: last.work, target: last.target, bare: last.bare, bareBefore: last.bareBefore, sets: last.sets, each: last.each });
    joined = [];
  }
}

/** What a movement has of its own to say how long or how often. */
const own = (i: ItemDraft) => i.work ?? i.target ?? i.bare ?? i.sets ?? i.each;

/** Whether a movement follows before the part ends. */
function namedBefore(all: readonly Token[], from: number): boolean {
  for (let k = from; k < all.length; k += 1) {
    const t = all[k] as Token;
    if (t.of === 'name' || t.of === 'words') return true;
    if (t.of === 'colon' || (t.of === 'mark' && t.splits !== 'not')) return false;
  }
  return false;
}

/** "40 s" is no plural, "squats" is: the movement itself is not called so. */
const pluralOf = (said: string, name: string): boolean => /[^s]s$/i.test(said) && !/s$/i.test(name);

/** One part: movements with what is said of them, or something said of the section. */
function part(text: string, given: readonly Token[], find: Finder, d: Draft, head: boolean): SectionDraft | null {
  // "5 min warm-up" says it of the warm-up.
  const all = given.toSorted((a, b) => Number(b.of === 'kind') - Number(a.of === 'kind'));
  let section: SectionDraft | null = null;
  let item: ItemDraft | null = null;
  let inHead = head;
  /** What is said of the movement stands before it: then the next number is the next one's. */
  let led = false;
  const alone = !all.some((t) => t.of === 'name' || t.of === 'words' || t.of === 'kind');
  const waiting: (Token & { of: 'phrase' })[] = [];
  const present = (at: number): SectionDraft => {
    section ??= d.sections.at(-1) ?? newSection(d, 'main', at, false);
    return section;
  };
  const take = (t: Token & { of: 'phrase' }, to: ItemDraft | null, before = false): void => {
    let into = t.phrase.scope === 'plan' ? (d.sections.at(-1) ?? { kind: 'main', fields: {}, items: [], asked: 0, headTo: 0, from: 0, named: false } as SectionDraft) : present(t.from);
    if ((t.phrase.scope === 'head' || (t.phrase.scope === 'turn' && !to)) && into.items.length + into.asked > 0) {
      into = newSection(d, 'main', t.from, false);
      section = into;
    }
    // A rest by itself behind a movement with a time of its own is the rest after it, as in "squat 45 s, rest 15 s".
    const last = into.items.at(-1);
    const after = !head && alone && !to && /rest|recover/i.test(t.match[0]) && t.phrase.scope === 'both' && into.fields.work === undefined && into.every === undefined
      && last && !last.sets && own(last) !== undefined ? last : null;
    const target = t.phrase.scope === 'both' ? (to ?? after) : null;
    const was = { item: { ...target }, fields: { ...into.fields }, own: { length: into.length, every: into.every, lasts: into.lasts, betweenRounds: into.betweenRounds } };
    const done = t.phrase.take(t.match, { draft: d, section: into, item: target, from: t.from, to: t.to, before });
    const twice = 'wrong' in done ? null : writtenTwice(target, into, was);
    if ('wrong' in done) askAt(d, t.from, t.to, done.wrong, [...(done.choices ?? []), takeOut]);
    else if (twice) askAt(d, t.from, t.to, `"${text.slice(t.from, t.to)}" stands here, and ${twice} before it: which is meant? The first is taken.`, [
      ...(!to && /rest|recover/i.test(t.match[0]) && /\d/.test(t.match[0]) && !/between|after/i.test(t.match[0]) ? [{ label: 'Between rounds', text: `${text.slice(t.from, t.to)} between rounds` }] : []), takeOut,
    ]);
    else understood(d, t.from, t.to, after ? `${done.says} after it` : done.says, t.phrase.scope === 'plan' ? 'plan' : target ? 'timing' : 'section');
    if (!target && into.items.length + into.asked === 0) into.headTo = Math.max(into.headTo, t.to);
  };
  /** A movement, or null where it is asked which one: what is said of it then waits for the answer. */
  const name = (movement: string | null, from: number, to: number, says = ''): void => {
    item = { movement: movement ?? '', from, to, plural: pluralOf(text.slice(from, to), says) };
    led = waiting.length > 0;
    if (movement === null) present(from).asked += 1;
    else present(from).items.push(item);
    inHead = false;
    for (const w of waiting.splice(0)) take(w, item, true);
  };
  for (let k = 0; k < all.length; k += 1) {
    const t = all[k] as Token;
    if (t.of === 'kind') {
      section = newSection(d, t.heading.kind, Math.min(t.from, given[0]?.from ?? t.from), true);
      section.headTo = t.to;
      section.part = t.heading.part;
      if (t.heading.name !== undefined) section.fields.name = t.heading.name;
      item = null;
      inHead = true;
      understood(d, t.from, t.to, t.heading.says, 'section');
    } else if (t.of === 'name') {
      name(t.movement, t.from, t.to, t.says);
      understood(d, t.from, t.to, t.says, 'movement');
    } else if (t.of === 'phrase') {
      // A length before its movement waits for it: "30 s plank", "10 squats 5 push-ups".
      if (t.phrase.scope === 'both' && (!item || led) && !inHead && all.slice(k + 1).some((n) => n.of === 'name' || n.of === 'words')) waiting.push(t);
      else take(t, inHead ? null : item);
    } else if (t.of === 'words') {
      let end = k;
      while (all[end + 1]?.of === 'words') end += 1;
      words(text, t.from, (all[end] as Token).to, find, d, name);
      k = end;
    } else understood(d, t.from, t.to, '', 'mark');
  }
  for (const w of waiting) take(w, null);
  return section;
}

/** Words that are no whole name: found by a part of it, or asked about. */
function words(text: string, from: number, to: number, find: Finder, d: Draft, name: (id: string | null, from: number, to: number, says?: string) => void): void {
  const said = text.slice(from, to);
  const found = find.find(said);
  switch (found.of) {
    case 'one':
      name(found.movement.id, from, to, found.movement.name);
      understood(d, from, to, found.movement.name, 'movement', !found.sure);
      return;
    case 'several':
      name(null, from, to);
      askAt(d, from, to, `Which one is "${said.slice(0, 60)}"?`, [...found.movements.map((m) => ({ label: m.name, text: m.name })), ...asName(text, from, to)]);
      return;
    case 'none':
      name(null, from, to);
      askAt(d, from, to, `"${said.slice(0, 60)}" is not in the library, and is no shorthand known here. Write it another way, or take it out.`, [...asName(text, from, to), takeOut]);
  }
}

/** Words alone on the first line may be what the class is called. */
const asName = (text: string, from: number, to: number): { label: string; text: string }[] =>
  text.slice(0, from).trim() === '' && /^[^\S\n]*(?:\n|$|:)/u.test(text.slice(to)) && to - from <= 80 ? [{ label: 'It is the name of the class', text: `name: ${text.slice(from, to)}${text.slice(to).trimStart().startsWith(':') ? '\n' : ''}` }] : [];
