/** Owns what a phrase of shorthand is and what phrases have in common. Leaves alone which phrases there are (phrases.ts, trade.ts). */
import { PLAN_MOST_S } from '../../limits.ts';
import { longS } from '../words.ts';
import type { Draft, ItemDraft, SectionDraft } from './draft.ts';

export interface Phrase {
  readonly re: RegExp;
  /** plan: the class; section: always the section; head: a section, and a new one where the present one has movements; turn: the same, but behind a movement of its own part it is of the present one; both: the movement it stands with, else the section. */
  readonly scope: 'plan' | 'section' | 'head' | 'turn' | 'both';
  /** What was understood in words, or what is wrong. */
  readonly take: (m: RegExpExecArray, to: Target) => Taken;
}
export type Taken = { readonly says: string } | { readonly wrong: string; readonly choices?: readonly { readonly label: string; readonly text: string }[] };
export interface Target { readonly draft: Draft; readonly section: SectionDraft; readonly item: ItemDraft | null; readonly from: number; readonly to: number; /** Written before its movement: "20 squats". */ readonly before: boolean }

/** The source as a phrase that no letter or digit follows. */
export const re = (source: string): RegExp => new RegExp(`${source}(?![\\p{L}\\p{N}])`, 'iuy');
export const says = (words: string) => ({ says: words });
export const wrong = (words: string) => ({ wrong: words });

/** The words for what is wrong with so many seconds; null where nothing is. */
export function badSeconds(s: number, least = 1): string | null {
  if (!Number.isFinite(s)) return 'That is no number.';
  if (s < least) return `${s} s is too short: ${least} s is the least.`;
  if (s > PLAN_MOST_S) return `${longS(s)} is too long: an hour is the most for one stretch.`;
  return Math.abs(s * 10 - Math.round(s * 10)) > 1e-6 ? `${s} s is too fine: tenths of a second are the finest.` : null;
}
export const fieldsOf = (t: Target) => (t.item ?? t.section.fields) as ItemDraft & SectionDraft['fields'];
export const badCount = (n: number, most: number, what: string): string | null => (Number.isInteger(n) && n >= 1 && n <= most ? null : `${n} ${what}: 1 to ${most}, in whole numbers.`);

export const simple = (source: string, scope: Phrase['scope'], words: string, set: (t: Target) => void): Phrase => ({ re: re(source), scope, take: (_, t) => { set(t); return says(words); } });
