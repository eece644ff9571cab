/** Owns what is gathered while shorthand is read: sections, spans, questions. Leaves alone how it is read (read.ts). */
import type { Item, Plan, Section } from '../../plan/plan.ts';

/** A stretch of the text that was understood; characters from `from` up to `to`. */
export interface Understood {
  readonly from: number;
  readonly to: number;
  /** In words, to stand beside it: "3 rounds", "Reverse lunge". Empty for a comma and the like. */
  readonly says: string;
  readonly what: 'plan' | 'section' | 'timing' | 'movement' | 'mark';
  /** Understood, but not written as it is called: worth a look. */
  readonly guessed: boolean;
}

export interface Choice {
  readonly label: string;
  /** What the stretch of the question is replaced by. */
  readonly text: string;
}
export interface Ask {
  readonly id: string;
  /** Where it is about; the same twice where something is missing there. */
  readonly from: number;
  readonly to: number;
  readonly sentence: string;
  readonly choices: readonly Choice[];
}

type Loose<T> = { -readonly [K in keyof T]?: T[K] | undefined };
export interface Sets { rounds: number; n: number; unit: 's' | 'count' | null; from: number; to: number }
export interface ItemDraft extends Loose<Item> {
  movement: string; from: number; to: number; bare?: number; bareAt?: { from: number; to: number };
  /** The bare number stands before the movement; the movement is written in the plural: "20 squats". */
  bareBefore?: boolean; plural?: boolean;
  /** Loose: "both sides", which may also be said of what both sides do at once. */
  perSide?: { from: number; to: number; loose: boolean };
  /** "30 s each": of each side, or of each movement. */
  each?: { s: number; from: number; to: number };
  /** Written as sets of it: so many, of so many counts or seconds each. */
  sets?: Sets;
}
export interface SectionDraft {
  kind: Section['kind'];
  fields: Loose<Omit<Section, 'id' | 'kind' | 'items'>>;
  items: ItemDraft[];
  /** Movements that it is asked about. */
  asked: number;
  /** A length written for the whole section. */
  length?: number;
  betweenRounds?: number;
  /** Seconds from the beginning of one turn to the next, and how long they go on. */
  every?: number;
  lasts?: number;
  /** Sets of each movement, written before them. */
  sets?: Sets;
  /** All sets of one movement before the next. */
  straight?: boolean;
  /** Where its head ends: what is missing is put in there. */
  headTo: number;
  from: number;
  /** Whether somebody wrote its heading. */
  named: boolean;
  /** Its heading is that of a part of the main work, which has movements. */
  part?: boolean;
}
export interface Draft {
  plan: Loose<Pick<Plan, 'name' | 'note' | 'group' | 'slot'>>;
  sections: SectionDraft[];
  understood: Understood[];
  asks: Ask[];
}

export const newDraft = (): Draft => ({ plan: {}, sections: [], understood: [], asks: [] });

export function newSection(d: Draft, kind: Section['kind'], at: number, named: boolean): SectionDraft {
  const section: SectionDraft = { kind, fields: {}, items: [], asked: 0, headTo: at, from: at, named };
  d.sections.push(section);
  return section;
}

export function askAt(d: Draft, from: number, to: number, sentence: string, choices: readonly Choice[] = []): void {
  d.asks.push({ id: `ask-${d.asks.length + 1}`, from, to, sentence, choices });
}
