/**
 * Owns every word that a class puts on a screen or a phone, from what `view`
 * says. Only what instructors say. The movement's own phrases come first: a limb
 * is named ("right leg back"), never just a side.
 */
import type { Position } from '../movement/movement.ts';
import { factsFor } from '../plan/facts.ts';
import type { Interval, Side } from '../plan/interval.ts';
import type { Section } from '../plan/plan.ts';
import type { PauseReason, Session } from '../session/session.ts';
import type { ServerAt } from '../time/units.ts';
import type { Upcoming } from './upcoming.ts';
import type { View } from './view.ts';

const sectionWords: Record<Section['kind'], string> = {
  welcome: 'Welcome', 'warm-up': 'Warm-up', main: 'Main', 'cool-down': 'Cool-down', 'clear-up': 'Clear up',
};
export const sectionName = (section: Section | undefined): string => (section ? (section.name ?? sectionWords[section.kind]) : '');

const WATER = 'Water';
/** What a talk is called: its section, or the break that was put in. */
export const talkName = (i: Interval, section: Section | undefined): string => (i.break === 'water' ? WATER : sectionName(section));

const positionWords: Record<Position, string> = {
  standing: 'standing', kneeling: 'on your knees', 'all-fours': 'on hands and knees', plank: 'in a plank', seated: 'sitting on the floor',
  chair: 'on your chair', 'face-up': 'on your back', 'face-down': 'on your front', 'side-lying': 'on your side',
};

const wayWords: Record<Upcoming['way'], string> = {
  same: '', 'to-the-floor': ', on the floor', 'still-on-the-floor': ', still on the floor', up: ', up to standing',
};

export const pauseWords: Record<PauseReason, string> = { form: 'Form', water: 'Water', question: 'Question', other: 'Other' };

/** The words for a limb or a side. */
export function sidePhrase(session: Session, movement: string | null, side: Side): string {
  return (movement ? factsFor(session.facts, movement).phrases?.[side] : undefined) ?? `${side} side`;
}

export const movementName = (session: Session, movement: string | null): string => (movement ? factsFor(session.facts, movement).name : '');

export interface Words {
  /** What this is: the movement, or the part of the class. */
  readonly title: string;
  /** Top right: round, turn, or what to do with the eyes. */
  readonly corner: string;
  /** By the seconds: limb, set-up, count. */
  readonly line: string;
  /** "Next, on the floor" and the movement. */
  readonly nextLabel: string;
  readonly next: string;
  readonly option: string;
}

export function words(session: Session, v: View): Words {
  const section = session.plan.sections[v.interval?.section ?? session.plan.sections.length - 1];
  const movement = v.movement ? factsFor(session.facts, v.movement) : null;
  return {
    title: titleOf(session, v, section),
    corner: cornerOf(v),
    line: lineOf(session, v),
    nextLabel: nextLabelOf(v),
    next: v.moving || v.stopped ? '' : v.paused ? resumeWords(session, v) : v.phase === 'work' && v.interval?.stations && v.next?.kind === 'stations' ? 'Move round' : nextWords(session, v.next),
    option: v.moving || v.stopped ? '' : (movement?.option ?? ''),
  };
}

function titleOf(session: Session, v: View, section: Section | undefined): string {
  if (v.stopped) return 'Please stop';
  if (v.moving) return 'Keep moving';
  if (v.paused) return 'Paused';
  switch (v.phase) {
    // After a stop nobody is congratulated.
    case 'over': return session.wasStopped || session.pause?.stop ? 'The class is over' : 'Well done';
    case 'talk': return v.interval ? talkName(v.interval, section) : '';
    case 'rest': return v.interval?.stations ? 'Move round' : 'Rest';
    default: return v.interval?.stations ? (v.phase === 'work' ? 'Stations' : 'Move round') : movementName(session, v.movement);
  }
}

function cornerOf(v: View): string {
  if (v.stopped) return '';
  if (v.moving) return 'March easily';
  if (v.paused) return v.paused.reason === 'water' ? 'Have some water' : 'Stay easy a moment';
  if (v.phase === 'watch') return 'Watch first';
  if (v.phase === 'talk' || v.phase === 'over') return '';
  if (v.interval?.kind === 'other-side') return 'Other side';
  const turns = v.interval?.stations;
  if (turns) return `Turn ${turns.turn + 1}`;
  if (!v.round) return '';
  return v.round.n === v.round.of ? 'Last round' : `Round ${v.round.n} of ${v.round.of}`;
}

function lineOf(session: Session, v: View): string {
  const { interval, phase } = v;
  if (!interval || phase === 'over' || phase === 'talk' || v.moving || v.stopped) return '';
  const phrase = v.side ? sidePhrase(session, v.movement, v.side) : '';
  const target = interval.target ? `${interval.target.n} ${interval.target.of}` : '';
  switch (phase) {
    case 'work': return [target, phrase || (interval.alternating ? 'side to side' : '')].filter(Boolean).join(', ');
    case 'other-side': return phrase;
    case 'count-in': return phrase || 'Get ready';
    case 'set-up': return setUpWords(session, v);
    case 'rest': return '';
    case 'watch': return '';
  }
}

function setUpWords(session: Session, v: View): string {
  if (v.interval?.stations) return 'Go to your next place';
  const start = v.movement ? factsFor(session.facts, v.movement).start : 'standing';
  return `Set up: ${positionWords[start]}`;
}

function nextLabelOf(v: View): string {
  if (v.moving || v.stopped) return '';
  if (v.paused) return v.seconds === null ? 'Then on with' : `Then ${v.seconds} more`;
  if (v.phase === 'over') return '';
  const lead = v.phase === 'set-up' || v.phase === 'count-in' || v.phase === 'watch' ? 'Then' : 'Next';
  return `${lead}${wayWords[v.next?.way ?? 'same']}`;
}

/** What a pause goes back to. */
function resumeWords(session: Session, v: View): string {
  if (v.side) return capital(sidePhrase(session, v.movement, v.side));
  if (v.interval?.stations) return 'Stations';
  return v.interval?.kind === 'talk' ? talkName(v.interval, session.plan.sections[v.interval.section]) : movementName(session, v.movement);
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function nextWords(session: Session, next: Upcoming | null): string {
  if (!next) return '';
  switch (next.kind) {
    case 'end': return 'Finish';
    case 'talk': return sectionName(session.plan.sections[next.section]);
    case 'water': return WATER;
    case 'stations': return 'Stations';
    case 'movement': return movementName(session, next.movement);
  }
}

/** A point in time as the clock on the wall says it: hours and minutes. */
export const clockTime = (at: ServerAt, timeZone: string): string =>
  new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', timeZone }).format(at);

/** A length in the words of a room: "35 s", "1 min", "4 min 30 s". */
export function lengthWords(ms: number): string {
  const s = Math.round(ms / 1_000);
  const [min, rest] = [Math.floor(s / 60), s % 60];
  if (min === 0) return `${rest} s`;
  return rest === 0 ? `${min} min` : `${min} min ${rest} s`;
}
