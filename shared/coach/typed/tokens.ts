/** Owns cutting one typed line into its tokens: headings, movements, phrases, marks; what is none of these is words. */
import type { Finder } from './names.ts';
import { type Heading, headingAt } from './headings.ts';
import type { Phrase } from './phrase.ts';
import { phrases } from './phrases.ts';

interface Span { readonly from: number; readonly to: number }
export type Token =
  | ({ readonly of: 'phrase'; readonly phrase: Phrase; readonly match: RegExpExecArray } & Span)
  | ({ readonly of: 'kind'; readonly heading: Heading } & Span)
  | ({ readonly of: 'name'; readonly movement: string; readonly says: string } & Span)
  /** apart: what stands at either side of it are two things. dash: only where each has a movement. */
  | ({ readonly of: 'mark'; readonly splits: 'apart' | 'dash' | 'not' } & Span)
  | ({ readonly of: 'words' | 'colon' } & Span);

const filler = /(?:then|and|with|of|for|each|the|do|holds?|plus|into|w\/)(?![\p{L}\p{N}])/iuy;
const apart = /[,;+&]|->|=>|→|➔|»/uy;
const enumerator = /\d{1,2}\)(?=[^\S\n])/uy;
const dash = /[–—/>]|-(?=\s)/uy;
const marks = /[•*()|[\]{}]|[-=_*~#.]{3,}|\.(?=\s|$)/uy;
const byId = /#([a-z0-9]+(?:-[a-z0-9]+)*)(?![\p{L}\p{N}-])/uy;
const word = /[^\s,;:+&()|/→>[\]{}]+/uy;

const tryAt = (re: RegExp, text: string, at: number): RegExpExecArray | null => {
  re.lastIndex = at;
  const m = re.exec(text);
  return m && m[0].length > 0 ? m : null;
};

/** The tokens of the line that goes from `from` to `to`. */
export function tokens(text: string, from: number, to: number, find: Finder): Token[] {
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

/** The words from here on, as far as a name may go, each with where it ends. */
function wordsFrom(line: string, at: number): { text: string; to: number }[] {
  const words: { text: string; to: number }[] = [];
  for (let k = at, m = tryAt(word, line, k); m && words.length < 7 && /[\p{L}\p{N}]/u.test(m[0]); m = tryAt(word, line, k)) {
    words.push({ text: m[0], to: k + m[0].length });
    k += m[0].length;
    while (/[^\S\n]/u.test(line[k] ?? '')) k += 1;
  }
  return words;
}

/** Whether a bracket is open: "(x 3)" holds no "3)". */
const open = (line: string, from: number, at: number): boolean => line.slice(from, at).split('(').length > line.slice(from, at).split(')').length;

function one(line: string, at: number, find: Finder, before: readonly Token[]): Token {
  const to = (m: RegExpExecArray) => ({ from: at, to: at + m[0].length });
  if (line[at] === ':') return { of: 'colon', from: at, to: at + 1 };
  const words = wordsFrom(line, at);
  const whole = find.whole(words.map((w) => w.text));
  const wholeTo = whole ? (words[whole.count - 1]?.to ?? at + 1) : at;
  // A heading comes first, or behind what is said of it: "5 min warm-up".
  const head = before.every((t) => t.of === 'mark' || t.of === 'phrase') ? headingAt(line, at) : null;
  if (head && head.length >= wholeTo - at) return { of: 'kind', heading: head.heading, from: at, to: at + head.length };
  const id = tryAt(byId, line, at);
  if (id) return { of: 'name', movement: id[1] ?? '', says: id[1] ?? '', ...to(id) };
  if (whole) return { of: 'name', movement: whole.movement.id, says: whole.movement.name, from: at, to: wholeTo };
  const number = open(line, before[0]?.from ?? at, at) ? null : tryAt(enumerator, line, at);
  if (number) return { of: 'mark', splits: 'apart', ...to(number) };
  for (const phrase of phrases) {
    const match = tryAt(phrase.re, line, at);
    if (match) return { of: 'phrase', phrase, match, ...to(match) };
  }
  const splits = tryAt(apart, line, at);
  if (splits) return { of: 'mark', splits: 'apart', ...to(splits) };
  const run = tryAt(marks, line, at);
  if (run) return { of: 'mark', splits: 'not', ...to(run) };
  const dashed = tryAt(dash, line, at);
  if (dashed) return { of: 'mark', splits: 'dash', ...to(dashed) };
  const mark = tryAt(filler, line, at);
  if (mark) return { of: 'mark', splits: 'not', ...to(mark) };
  const m = tryAt(word, line, at);
  return { of: 'words', from: at, to: at + Math.max(1, m?.[0].length ?? 1) };
}
