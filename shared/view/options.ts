/**
 * Owns what fits the people who are here: for each need that somebody named at the door,
 * the movement's own option for it. Pure; counts in, lines out. The instructor decides:
 * a movement that says nothing is asked about or left out.
 */
import type { Library, Movement, Need } from '../movement/movement.ts';
import { type Here, type Said, saids } from '../session/here.ts';
import type { View } from './view.ts';

export const saidWords: Readonly<Record<Said, string>> = {
  new: 'New', knee: 'Knee', back: 'Back', wrist: 'Wrist', shoulder: 'Shoulder', pregnancy: 'Pregnancy', 'no-floor': 'No floor', 'no-jumping': 'No jumping',
};

export const ASK = 'Ask, or leave it out';
/** As movement files say that nothing has to be otherwise. */
const AS_SHOWN = /^as shown\b/i;

export interface OptionLine {
  readonly said: Said;
  readonly label: string;
  readonly count: number;
  /** "Hip hinge, standing". */
  readonly words: string;
  /** The movement that it is, where there is one. */
  readonly movement: string | null;
  /** The movement has nothing for it. */
  readonly ask: boolean;
  /** Nothing has to be otherwise. */
  readonly same: boolean;
}

/** Those that ask for something first, in the order of the door; what may be done as shown comes last. */
export function optionsFor(here: Here | null, movement: Movement | undefined): OptionLine[] {
  if (!here || !movement) return [];
  const lines = saids.flatMap((said): OptionLine[] => {
    const count = here.counts[said] ?? 0;
    if (count === 0) return [];
    // Who is new has no need of their own: the option that everybody may take.
    const found = said === 'new' ? movement.option : movement.forNeeds[said as Need];
    return [{
      said, label: saidWords[said], count, words: found?.words ?? ASK, movement: found?.movement ?? null,
      ask: found === undefined, same: found !== undefined && AS_SHOWN.test(found.words),
    }];
  });
  return [...lines.filter((l) => !l.same), ...lines.filter((l) => l.same)];
}

export interface Fitting { readonly movement: string; readonly name: string; readonly lines: readonly OptionLine[] }

/** For the movement that runs and the one that comes; at stations for each of them. */
export function fittingNow(here: Here | null, v: View, library: Library): { readonly now: readonly Fitting[]; readonly next: readonly Fitting[] } {
  const of = (ids: readonly (string | null | undefined)[]): Fitting[] => ids.flatMap((id) => {
    const movement = id ? library.get(id) : undefined;
    return movement ? [{ movement: movement.id, name: movement.name, lines: optionsFor(here, movement) }] : [];
  });
  return { now: of(v.interval?.stations?.movements ?? [v.movement]), next: of([v.next?.movement]) };
}
