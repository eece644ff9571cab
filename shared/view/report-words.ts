/** Owns the sentences of the log: what an interval, a change and a mark are called at the desk. */
import { factsFor } from '../plan/facts.ts';
import type { Interval } from '../plan/interval.ts';
import type { Event } from '../session/command.ts';
import type { Accounts, Session } from '../session/session.ts';
import type { Change, Mark, Report } from './report.ts';
import { lengthWords, movementName, pauseWords, sectionName, sidePhrase } from './words.ts';

/** The accounts in the order in which they are shown, and what they are called. */
export const accountWords: readonly (readonly [keyof Accounts, string])[] = [
  ['together', 'Work, both sides'], ['left', 'Work, left'], ['right', 'Work, right'], ['setUp', 'Setting up'],
  ['otherSide', 'Changing sides'], ['rest', 'Rest'], ['show', 'Showing'], ['talk', 'Talk'], ['countIn', 'Count-in'], ['paused', 'Paused'],
];

/** What one interval was: "Reverse lunge, right leg back". */
export function intervalWords(s: Session, i: Interval | null): string {
  if (!i) return 'the end';
  const name = i.stations ? `Stations, turn ${i.stations.turn + 1}` : i.movement ? movementName(s, i.movement) : '';
  const block = i.prompts ? `${sectionName(s.plan.sections[i.section])}, follow me` : name;
  const target = i.target ? `${i.target.n} ${i.target.of}` : '';
  switch (i.kind) {
    case 'talk': return sectionName(s.plan.sections[i.section]);
    case 'show': return `Show ${block}`;
    case 'set-up': return `Set up ${block}`;
    case 'rest': return 'Rest';
    case 'other-side': return i.side ? `Other side: ${sidePhrase(s, i.movement ?? null, i.side)}` : 'Other side';
    case 'work': return [block, i.side ? sidePhrase(s, i.movement ?? null, i.side) : '', target].filter(Boolean).join(', ');
  }
}

/** What became of an interval, in words; nothing where it went as planned. */
export function markWords(mark: Mark): string {
  switch (mark.what) {
    case 'extended': return `${lengthWords(mark.byMs)} more`;
    case 'shortened': return `${lengthWords(mark.byMs)} shorter`;
    case 'cut': return `left ${lengthWords(mark.byMs)} early`;
    case 'repeated': return mark.times === 1 ? 'done again' : `done again, ${mark.times} times`;
    case 'added': return 'added';
    case 'waited': return 'waited for go';
    case 'skipped': return 'skipped';
    case 'not-reached': return 'not reached';
    case 'to-come': return 'to come';
    case 'runs': return 'now';
  }
}

const wayKindWords = { tighter: 'tighter', shorter: 'shorter work', movement: 'one movement out', round: 'fewer rounds' } as const;
const named = (s: Session, id: string): string => intervalWords(s, s.intervals.find((i) => i.id === id) ?? null);

/** One change as a sentence; the report's own session knows every interval that the log names. */
export function changeWords({ session: s }: Pick<Report, 'session'>, { event, interval }: Change): string {
  const here = intervalWords(s, interval);
  const by = (changes: readonly { byMs: number }[]) => lengthWords(Math.abs(changes[0]?.byMs ?? 0));
  const sides = (changes: readonly unknown[]) => (changes.length > 1 ? ' on each side' : '');
  switch (event.type) {
    case 'started': return 'Started';
    case 'went': return `Go, after ${here}`;
    case 'readied': return `All ready: ${here} ended ${lengthWords(event.byMs)} early`;
    case 'waited': return `${here} waited for go`;
    case 'paused': return event.reason ? `Paused, ${pauseWords[event.reason].toLowerCase()}, in ${here}` : `Paused in ${here}`;
    case 'reason-given': return `The pause was for: ${pauseWords[event.reason].toLowerCase()}`;
    case 'carried-on': return event.countInMs > 0 ? `Carried on, with ${lengthWords(event.countInMs)} to get ready` : 'Carried on';
    case 'went-back': return `Again: back to ${named(s, event.to)}`;
    case 'moved-on': return `Moved on from ${here} to ${named(s, event.to)}`;
    case 'sides-changed': return `Changed sides early in ${here}`;
    case 'extended': return `${by(event.changes)} more${sides(event.changes)}: ${here}`;
    case 'shortened': return `${by(event.changes)} shorter${sides(event.changes)}: ${here}`;
    case 'evened-up': return `Matched the other side: ${intervalWords(s, event.intervals.at(-1) ?? null)}, ${lengthWords(event.intervals.at(-1)?.lengthMs ?? 0)}`;
    case 'round-dropped': return `Dropped round ${event.round}`;
    case 'round-added': return `Added round ${event.round}`;
    case 'left-out': return `Left out ${movementName(s, s.plan.sections[event.section]?.items[event.item]?.movement ?? null)}`;
    case 'changed': return `${movementName(s, event.to)} in place of ${movementName(s, s.plan.sections[event.section]?.items[event.item]?.movement ?? null)}`;
    case 'break-inserted': return event.of === 'water' ? 'Put in a water break' : 'Put in a rest';
    case 'show-lengthened': return `${by(event.edit.changes)} more to show`;
    case 'repeated': return `Once more: ${intervalWords(s, event.edit.added[0]?.intervals.at(-1) ?? null)}`;
    case 'cooled-down': return `On to the cool-down from ${here}`;
    case 'way-taken': return event.kind === 'longer' ? 'Used time that was left' : `Cut to end on time: ${wayKindWords[event.kind]}`;
    case 'undone': return 'Took the last change back';
    case 'noted': return `Note: ${event.text}`;
    case 'counted-heads': return `${event.n} here`;
    case 'ended': return `Ended in ${here}`;
    default: return never(event);
  }
}

function never(event: never): never {
  throw new Error(`a change without words: ${JSON.stringify(event)}`);
}

/** Changes that a person made to the plan; go, pauses and notes are told elsewhere. */
export const isChange = ({ type }: Event): boolean =>
  type !== 'went' && type !== 'noted' && type !== 'counted-heads' && type !== 'carried-on' && type !== 'paused' && type !== 'reason-given';

/** "right leg back 15 s, left leg back 7 s": the sides of one movement, and which has less. */
export function sidesWords(s: Session, row: Report['sides'][number]): string {
  const [right, left] = [sidePhrase(s, row.movement, 'right'), sidePhrase(s, row.movement, 'left')];
  const both = `${right} ${lengthWords(row.rightMs)}, ${left} ${lengthWords(row.leftMs)}`;
  if (!row.owed) return both;
  return `${both}; ${lengthWords(Math.abs(row.leftMs - row.rightMs))} less with ${row.owed === 'left' ? left : right}`;
}

/** The name of a movement where the log knows it; of stations and blocks their own words. */
export const sidesName = (s: Session, row: Report['sides'][number]): string =>
  row.movement ? factsFor(s.facts, row.movement).name : 'Stations';
