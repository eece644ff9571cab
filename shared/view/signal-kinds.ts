/**
 * Owns the list of signals, which gives way to which, and how far apart they
 * must be. Leaves alone when they come (signals.ts) and how they sound (media).
 */
import type { ServerAt } from '../time/units.ts';

/** Strongest first: of two signals that come too close together the one further down is left out. */
export const signalKinds = [
  'paused', 'class-end', 'section-end', 'side-change', 'end', 'go', 'resumed', 'one', 'two', 'three',
  'last-one', 'last-two', 'last-three', 'ten-left', 'halfway',
] as const;
export type SignalKind = (typeof signalKinds)[number];

export interface Signal {
  readonly kind: SignalKind;
  readonly at: ServerAt;
  /** The pass of the interval that it belongs to; of an end the one that ended. */
  readonly occurrence: string;
  /** For those who do not hear it. */
  readonly caption: string;
  readonly movement?: string;
}

/** Two signals that start closer together than this run into one (our own sounds; common practice, no source). */
export const APART_MS = 500;
/** A signal later than this means nothing any more: a beat of the count-in would be felt as the next. */
export const LATE_MS = 250;
/**
 * What a command says is heard this long after it, on every screen alike: by then the command has
 * reached them all and lies on their audio clocks, before a loudspeaker that takes some 50 ms. Still
 * felt as the answer to a press (common practice, no source).
 */
export const LEAD_MS = 120;
/** How long a caption stays: a few words, read while moving (common practice, no source). */
export const CAPTION_MS = 2_500;
/** "Ten seconds" is only said of work that is at least this long. */
export const TEN_LEFT_LEAST_MS = 20_000;

/** What a signal is known by, so that it is played once. Moved by a pause or an extension it is another. */
export const keyOf = (signal: Signal): string => `${signal.kind}@${signal.at}`;

const counts: readonly SignalKind[] = ['three', 'two', 'one', 'last-three', 'last-two', 'last-one'];
/** The beats of a count: the screen shows them as digits, so they never push words away. */
export const isCount = (kind: SignalKind): boolean => counts.includes(kind);

/** Of those the ones whose caption is the digit itself; the last three have words of their own. */
export const isDigit = (kind: SignalKind): boolean => ['three', 'two', 'one'].includes(kind);

const rank = (signal: Signal): number => signalKinds.indexOf(signal.kind);

/** Leaves out what is too close to something stronger; each once, in order of time. */
export function giveWay(candidates: readonly Signal[]): readonly Signal[] {
  const each = [...new Map(candidates.map((s) => [keyOf(s), s])).values()].sort((a, b) => a.at - b.at || rank(a) - rank(b));
  return each.filter((s) => !each.some((o) => rank(o) < rank(s) && Math.abs(o.at - s.at) < APART_MS));
}

/** The caption that these signals leave on the screen at an instant. Counts give way to words that are still read. */
export function captionOf(signals: readonly Signal[], at: ServerAt): Signal | null {
  const shown = signals.filter((s) => s.at <= at && at - s.at < CAPTION_MS);
  const words = shown.filter((s) => !isCount(s.kind)).at(-1);
  const newest = shown.at(-1);
  // "Go" is read at a glance, so the next count may follow it.
  return words && words.kind !== 'go' ? words : (newest ?? null);
}
