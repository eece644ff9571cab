/** Owns walking through the typed text: lines, parts of a line, tokens. Leaves alone what a draft becomes (typed.ts). */
import type { Section } from '../../plan/plan.ts';
import { askAt, type Draft, type ItemDraft, newSection, type SectionDraft, type Understood } from './draft.ts';
import type { Finder } from './names.ts';
import { type Phrase, phrases } from './phrases.ts';

type Token =
  | { readonly of: 'phrase'; readonly phrase: Phrase; readonly match: RegExpExecArray; readonly from: number; readonly to: number }
  | { readonly of: 'kind'; readonly kind: Section['kind']; readonly water: boolean; readonly from: number; readonly to: number }
  | { readonly of: 'name'; readonly movement: string; readonly says: string; readonly from: number; readonly to: number }
  | { readonly of: 'words' | 'mark' | 'colon'; readonly from: number; readonly to: number };

const heading = /(warm[- ]?ups?|main(?: part| block)?|cool[- ]?downs?|clear[- ]?up|welcome|water(?: break)?)(?![\p{L}\p{N}])/iuy;
const filler = /(?:then|and|with|of|for|each|the|do)(?![\p{L}\p{N}])/iuy;
const marks = /[,;+&–—•*()|]|\.(?=\s|$)|-(?=\s)/uy;
const byId = /#([a-z0-9]+(?:-[a-z0-9]+)*)(?![\p{L}\p{N}-])/uy;
const word = /[^\s,;:+&()|]+/uy;

const tryAt = (re: RegExp, text: string, at: number): RegExpExecArray | null => {
  re.lastIndex = at;
  const m = re.exec(text);
  return m && m[0].length > 0 ? m : null;
};

function kindOf(said: string): { kind: Section['kind']; water: boolean } {
  const w = said.toLowerCase();
  if (w.startsWith('warm')) return { kind: 'warm-up', water: false };
  if (w.startsWith('cool')) return { kind: 'cool-down', water: false };
  if (w.startsWith('clear')) return { kind: 'clear-up', water: false };
  return w.startsWith('welcome') ? { kind: 'welcome', water: false } : { kind: 'main', water: w.startsWith('water') };
}

/** The tokens of one line; what is no phrase and no name is words. */
function tokens(text: string, from: number, to: number, find: Finder): Token[] {
  const line = text.slice(0, to);
  const out: Token[] = [];
  let at = from;
  while (at < to) {
    if (/\s/u.test(line[at] ?? '')) { at += 1; continue; }
    const token = one(line, at, find, out);
    out.push(token);
    at = token.to;
  }
  return out;
}

function one(line: string, at: number, find: Finder, before: readonly Token[]): Token {
  const span = (m: RegExpExecArray) => ({ from: at, to: at + m[0].length });
  if (line[at] === ':') return { of: 'colon', from: at, to: at + 1 };
  const head = before.length === 0 || before.every((t) => t.of === 'mark') ? tryAt(heading, line, at) : null;
  if (head) return { of: 'kind', ...kindOf(head[0]), ...span(head) };
  const id = tryAt(byId, line, at);
  if (id) return { of: 'name', movement: id[1] ?? '', says: id[1] ?? '', ...span(id) };
  const words: { text: string; to: number }[] = [];
  for (let k = at, m = tryAt(word, line, k); m && words.length < 7; m = tryAt(word, line, k)) {
    words.push({ text: m[0], to: k + m[0].length });
    k += m[0].length;
    while (/[^\S\n]/u.test(line[k] ?? '')) k += 1;
  }
  const whole = find.whole(words.map((w) => w.text));
  if (whole) return { of: 'name', movement: whole.movement.id, says: whole.movement.name, from: at, to: words[whole.count - 1]?.to ?? at + 1 };
  for (const phrase of phrases) {
    const match = tryAt(phrase.re, line, at);
    if (match) return { of: 'phrase', phrase, match, ...span(match) };
  }
  const mark = tryAt(marks, line, at) ?? tryAt(filler, line, at);
  if (mark) return { of: 'mark', ...span(mark) };
  const m = tryAt(word, line, at);
  return { of: 'words', from: at, to: at + Math.max(1, m?.[0].length ?? 1) };
}

const bullet = /^[^\S\n]*(?:[-*•–—]|\d{1,2}[.)])[^\S\n]+/u;
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
  for (const t of all) {
    if (t.of === 'colon' || (t.of === 'mark' && /[,;+]/.test(text.slice(t.from, t.to)))) {
      if (run.length > 0) part(text, run, find, d, false);
      run = [];
      understood(d, t.from, t.to, '', 'mark');
    } else run.push(t);
  }
  if (run.length > 0) part(text, run, find, d, false);
}

/** One part: movements with what is said of them, or something said of the section. */
function part(text: string, all: readonly Token[], find: Finder, d: Draft, head: boolean): SectionDraft | null {
  let section: SectionDraft | null = null;
  let item: ItemDraft | null = null;
  let inHead = head;
  const waiting: (Token & { of: 'phrase' })[] = [];
  const present = (at: number): SectionDraft => {
    section ??= d.sections.at(-1) ?? newSection(d, 'main', at, false);
    return section;
  };
  const take = (t: Token & { of: 'phrase' }, to: ItemDraft | null): void => {
    let into = t.phrase.scope === 'plan' ? (d.sections.at(-1) ?? { kind: 'main', fields: {}, items: [], asked: 0, headTo: 0, from: 0, named: false } as SectionDraft) : present(t.from);
    if ((t.phrase.scope === 'head' || (t.phrase.scope === 'turn' && !to)) && into.items.length + into.asked > 0) {
      into = newSection(d, 'main', t.from, false);
      section = into;
    }
    const target = t.phrase.scope === 'both' ? to : null;
    const done = t.phrase.take(t.match, { draft: d, section: into, item: target, from: t.from, to: t.to });
    if ('wrong' in done) askAt(d, t.from, t.to, done.wrong);
    else understood(d, t.from, t.to, done.says, t.phrase.scope === 'plan' ? 'plan' : target ? 'timing' : 'section');
    if (!target && into.items.length + into.asked === 0) into.headTo = Math.max(into.headTo, t.to);
  };
  /** A movement, or null where it is asked which one: what is said of it then waits for the answer. */
  const name = (movement: string | null, from: number, to: number): void => {
    item = { movement: movement ?? '', from, to };
    if (movement === null) present(from).asked += 1;
    else present(from).items.push(item);
    inHead = false;
    for (const w of waiting.splice(0)) take(w, item);
  };
  for (let k = 0; k < all.length; k += 1) {
    const t = all[k] as Token;
    if (t.of === 'kind') {
      section = newSection(d, t.kind, t.from, true);
      section.headTo = t.to;
      if (t.water) section.fields.name = 'Water';
      item = null;
      inHead = true;
      understood(d, t.from, t.to, t.water ? 'water' : t.kind, 'section');
    } else if (t.of === 'name') {
      name(t.movement, t.from, t.to);
      understood(d, t.from, t.to, t.says, 'movement');
    } else if (t.of === 'phrase') {
      // A length before its movement waits for it: "30 s plank".
      if (t.phrase.scope === 'both' && !item && !inHead && all.slice(k + 1).some((n) => n.of === 'name' || n.of === 'words')) waiting.push(t);
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
function words(text: string, from: number, to: number, find: Finder, d: Draft, name: (id: string | null, from: number, to: number) => void): void {
  const said = text.slice(from, to);
  const found = find.find(said);
  switch (found.of) {
    case 'one':
      name(found.movement.id, from, to);
      understood(d, from, to, found.movement.name, 'movement', !found.sure);
      return;
    case 'several':
      name(null, from, to);
      askAt(d, from, to, `Which one is "${said.slice(0, 60)}"?`, [...found.movements.map((m) => ({ label: m.name, text: m.name })), ...asName(text, from, to)]);
      return;
    case 'none':
      name(null, from, to);
      askAt(d, from, to, `"${said.slice(0, 60)}" is not in the library, and is no shorthand known here. Write it another way, or take it out.`, [...asName(text, from, to), { label: 'Take it out', text: '' }]);
  }
}

/** Words alone on the first line may be what the class is called. */
const asName = (text: string, from: number, to: number): { label: string; text: string }[] =>
  text.slice(0, from).trim() === '' && /^[^\S\n]*(?:\n|$)/u.test(text.slice(to)) && to - from <= 80 ? [{ label: 'It is the name of the class', text: `name: ${text.slice(from, to)}` }] : [];
