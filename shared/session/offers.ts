/**
 * Owns which changes of the list the instructor can make now, as commands that
 * `decide` would take. Leaves alone the controls of what runs (view/controls.ts)
 * and the ways to end on time (ways.ts).
 */
import type { ServerAt } from '../time/units.ts';
import type { RunningCommand } from './command.ts';
import { lastOfRounds } from './commands/add-round.ts';
import { decide } from './decide.ts';
import { stands } from './edit.ts';
import { occurrenceOf } from './place.ts';
import { itemsLeft, lastRounds, restOfMovement, roundsOf } from './rounds.ts';
import type { Session } from './session.ts';
import { settle } from './settle.ts';

/** What is left of a movement: to be left out, or changed (add `to`, and send it as a change). */
export interface LeftOf {
  readonly section: number;
  readonly item: number;
  readonly movement: string;
  readonly intervals: readonly string[];
  /** Null where it is the only one left. */
  readonly leaveOut: RunningCommand | null;
}

export interface Offers {
  /** By section that has rounds: "drop the last round" and "one more round". */
  readonly rounds: readonly { readonly section: number; readonly last: number; readonly drop: RunningCommand | null; readonly add: RunningCommand | null }[];
  readonly movements: readonly LeftOf[];
  readonly rest: RunningCommand | null;
  readonly water: RunningCommand | null;
  /** Ten more seconds for the next show that is still to come. */
  readonly lengthenShow: RunningCommand | null;
  readonly repeat: RunningCommand | null;
  readonly toCoolDown: RunningCommand | null;
  /** Takes back the last change; `what` is the type of its event. */
  readonly undo: { readonly command: RunningCommand; readonly what: string } | null;
}

const MORE_MS = 10_000;

export function offers(session: Session, at: ServerAt): Offers {
  const s = settle(session, at);
  const { index } = s.anchor;
  const occurrence = occurrenceOf(s, index);
  const able = <C extends RunningCommand>(command: C | null): C | null => (command && !('refused' in decide(s, command, at)) ? command : null);
  const ids = (list: readonly { id: string }[]) => list.map((i) => i.id);
  const sections = s.plan.sections.map((_, k) => k).filter((k) => roundsOf(s.intervals, k).length > 0);
  const show = s.intervals.find((i, k) => k > index && i.kind === 'show');
  return {
    rounds: sections.map((section) => {
      const its = lastRounds(s.intervals, section, 1, index);
      const last = s.intervals[lastOfRounds(s, section)];
      return {
        section, last: roundsOf(s.intervals, section).at(-1) ?? 0,
        drop: able(its ? { type: 'drop-round', section, intervals: ids(its) } : null),
        add: able(last ? { type: 'add-round', section, after: last.id } : null),
      };
    }).filter((r) => r.drop || r.add),
    movements: sections.flatMap((section) => itemsLeft(s.intervals, section, index).flatMap((item): LeftOf[] => {
      const its = restOfMovement(s.intervals, section, item, index);
      const movement = its.find((i) => i.kind === 'work')?.movement;
      if (movement === undefined) return [];
      return [{ section, item, movement, intervals: ids(its), leaveOut: able({ type: 'leave-out', section, item, intervals: ids(its) }) }];
    })),
    rest: able({ type: 'insert-break', occurrence, of: 'rest' }),
    water: able({ type: 'insert-break', occurrence, of: 'water' }),
    lengthenShow: able(show ? { type: 'lengthen-show', interval: show.id, byMs: MORE_MS } : null),
    repeat: able({ type: 'repeat', occurrence }),
    toCoolDown: able({ type: 'to-cool-down', occurrence }),
    undo: s.change && stands(s, s.change) && able({ type: 'undo', change: s.change.number })
      ? { command: { type: 'undo', change: s.change.number }, what: s.change.what } : null,
  };
}
