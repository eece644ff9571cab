/** Owns the sentences of the log: what an interval, a change and a mark are called at the desk. */
import { factsFor } from '../plan/facts.ts';
import type { Interval } from '../plan/interval.ts';
import type { Event, EventType } from '../session/command.ts';
import type { Accounts, Session } from '../session/session.ts';
import type { Mark } from './marks.ts';
import type { Change, Report } from './report.ts';
import { lengthWords, movementName, pauseWords, sectionName, sidePhrase } from './words.ts';

/** The accounts in the order in which they are shown, and what they are called. */
export const accountWords: readonly (readonly [keyof Accounts, string])[] = [
  ['together', 'Work, both sides'], ['left', 'Work, left'], ['right', 'Work, right'], ['setUp', 'Setting up'],
  ['otherSide', 'Changing sides'], ['rest', 'Rest'], ['show', 'Showing'], ['talk', 'Talk'], ['countIn', 'Count-in'], ['paused', 'Paused'],
  ['keepMoving', 'Kept moving'], ['stopped', 'Stopped'],
];

/** What one interval was: "Reverse lunge, right leg back". */
export function intervalWords(s: Session, i: Interval | null): string {
  if (!i) return 'the end';
  const name = i.stations ? `Stations, turn ${i.stations.turn + 1}` : i.movement ? movementName(s, i.movement) : '';
  const block = i.prompts ? `${sectionName(s.plan.sections[i.section])}, follow me` : name;
  const target = i.target ? `${i.target.n} ${i.target.of}` : '';
  switch (i.kind) {
    case 'talk': return i.break === 'water' ? 'Water break' : sectionName(s.plan.sections[i.section]);
    case 'show': return `Show ${block}`;
    case 'set-up': return `Set up ${block}`;
    case 'rest': return 'Rest';
    case 'other-side': return i.side ? `Other side: ${sidePhrase(s, i.movement ?? null, i.side)}` : 'Other side';
    case 'work': return [block, i.side ? sidePhrase(s, i.movement ?? null, i.side) : '', target].filter(Boolean).join(', ');
  }
}

const outWords: Partial<Record<EventType, string>> = {
  'round-dropped': 'round dropped', 'left-out': 'left out', changed: 'changed for another', 'way-taken': 'left out to end on time',
};

/** What became of an interval, in words; nothing where it went as planned. */
export function markWords(mark: Mark): string {
  switch (mark.what) {
    case 'extended': return `${lengthWords(mark.byMs)} more`;
    case 'shortened': return `${lengthWords(mark.byMs)} shorter`;
    case 'cut': return `left ${lengthWords(mark.byMs)} early`;
    case 'repeated': return mark.times === 1 ? 'done again' : `done again, ${mark.times} times`;
    case 'out': return outWords[mark.by] ?? 'taken out';
    case 'added': return 'added';
    case 'waited': return 'waited for go';
    case 'skipped': return 'skipped';
    case 'not-reached': return 'not reached';
    case 'to-come': return 'to come';
    case 'runs': return 'now';
  }
}

const wayKindWords = { tighter: 'tighter', shorter: 'shorter work', movement: 'one movement out', round: 'fewer rounds' } as const;
type Known = Pick<Report, 'session' | 'known'>;
const named = ({ session, known }: Known, id: string): string => intervalWords(session, known.get(id) ?? null);

/** The movements of these intervals by name, each once: "Squat, Reverse lunge". */
function movementsOf({ session, known }: Known, ids: readonly string[]): string {
  const work = ids.map((id) => known.get(id)).filter((i) => i?.kind === 'work');
  return [...new Set(work.map((i) => (i?.stations ? 'Stations' : i?.prompts ? 'follow me' : movementName(session, i?.movement ?? null))))].join(', ');
}

const withNames = (words: string, names: string): string => (names === '' ? words : `${words}: ${names}`);

/** What a way took from the class, or gave it: what it left out by name, and by how much in all. */
function wayTakenWords(k: Known, event: Extract<Event, { type: 'way-taken' }>): string {
  const { edit, kind } = event;
  const clocked = edit.changes.filter((c) => c.ends === undefined);
  const work = movementsOf(k, clocked.map((c) => c.interval));
  const byMs = clocked.reduce((sum, c) => sum + c.byMs, 0);
  const by = byMs === 0 ? '' : `${lengthWords(Math.abs(byMs))} ${byMs < 0 ? 'less' : 'more'}${work === '' ? '' : ` in all, work of ${work} among it`}`;
  const out = edit.removed.length > 0 ? `left out ${movementsOf(k, edit.removed)}` : '';
  const lead = kind === 'longer' ? 'Used time that was left' : `Cut to end on time, ${wayKindWords[kind]}`;
  return withNames(lead, [out, by].filter(Boolean).join('; '));
}

const inSection = (s: Session, section: number): string => {
  const name = sectionName(s.plan.sections[section]);
  return s.plan.sections.length > 1 && name !== '' ? ` of ${name}` : '';
};

/** One change as a sentence; the report's own session knows every interval that the log names. */
export function changeWords(k: Known, { event, interval, undoes }: Pick<Change, 'event' | 'interval' | 'undoes'>): string {
  const { session: s } = k;
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
    case 'went-back': return `Again: back to ${named(k, event.to)}`;
    case 'moved-on': return `Moved on from ${here} to ${named(k, event.to)}`;
    case 'sides-changed': return `Changed sides early in ${here}`;
    case 'extended': return `${by(event.changes)} more${sides(event.changes)}: ${here}`;
    case 'shortened': return `${by(event.changes)} shorter${sides(event.changes)}: ${here}`;
    case 'evened-up': return `Matched the other side: ${intervalWords(s, event.intervals.at(-1) ?? null)}, ${lengthWords(event.intervals.at(-1)?.lengthMs ?? 0)}`;
    case 'round-dropped': return withNames(`Dropped round ${event.round}${inSection(s, event.section)}`, movementsOf(k, event.edit.removed));
    case 'round-added': return `Added round ${event.round}${inSection(s, event.section)}`;
    case 'left-out': return `Left out ${movementsOf(k, event.edit.removed)}`;
    case 'changed': return `${movementName(s, event.to)} in place of ${movementsOf(k, event.edit.removed)}`;
    case 'break-inserted': {
      const after = event.edit.added[0]?.after;
      return `Put in a ${event.of === 'water' ? 'water break' : 'rest'}${after === undefined ? '' : ` after ${named(k, after)}`}`;
    }
    case 'show-lengthened': return `${by(event.edit.changes)} more to show`;
    case 'repeated': return `Once more: ${intervalWords(s, event.edit.added[0]?.intervals.at(-1) ?? null)}`;
    case 'cooled-down': return `On to the cool-down from ${here}`;
    case 'way-taken': return wayTakenWords(k, event);
    case 'undone': return undoes ? `Taken back. It was: ${changeWords(k, { event: undoes, interval, undoes: null })}` : 'Took the last change back';
    case 'kept-moving': return event.aimMs === null ? `Kept moving, in ${here}` : 'Moved easily before carrying on';
    // No cause, and nothing of what was done about it but its times.
    case 'stopped': return `Stopped in ${here}`;
    case 'stop-answered': return 'Stopped';
    case 'stop-stamped': return event.what === 'help-called' ? 'Help called' : 'Help here';
    case 'came-back': return 'Back to paused';
    case 'noted': return `Note: ${event.text}`;
    case 'counted-heads': return `${event.n} here`;
    case 'ended': return `Ended in ${here}`;
    default: return never(event);
  }
}

function never(event: never): never {
  throw new Error(`a change without words: ${JSON.stringify(event)}`);
}

/** What the class stood for beside its length: ", form", ", stopped", ", kept moving". */
export function standsFor({ what, reason }: Pick<Report['pauses'][number], 'what' | 'reason'>): string {
  switch (what) {
    case 'stop': return ', stopped';
    case 'keep-moving': return ', kept moving';
    case 'pause': return reason ? `, ${pauseWords[reason].toLowerCase()}` : '';
  }
}

/** When help was called and came, in one stop. */
export const stampsIn = (r: Pick<Report, 'changes'>, p: Report['pauses'][number]): readonly Change[] =>
  r.changes.filter((c) => c.event.type === 'stop-stamped' && c.at >= p.at && c.at <= p.at + p.lengthMs);

/** Changes that a person made to the plan; go, pauses and notes are told elsewhere. */
export const isChange = ({ type }: Event): boolean =>
  type !== 'went' && type !== 'noted' && type !== 'counted-heads' && type !== 'carried-on' && type !== 'paused' && type !== 'reason-given'
  && type !== 'kept-moving' && type !== 'stop-answered' && type !== 'stop-stamped' && type !== 'came-back' && type !== 'stopped';

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
