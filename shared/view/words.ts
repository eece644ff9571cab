/**
 * Owns which words a class puts on a screen or a phone, from what `view` says; the
 * words themselves are in the catalogue (shared/words). The movement's own phrases come
 * first: a limb is named ("right leg back"), never just a side. Where no language is
 * given it is English, as on the phone and at the desk.
 */
import { type Facts, factsFor } from '../plan/facts.ts';
import type { Interval, Side } from '../plan/interval.ts';
import type { Section } from '../plan/plan.ts';
import type { PauseReason, Session } from '../session/session.ts';
import type { ServerAt } from '../time/units.ts';
import type { Language } from '../words/language.ts';
import { english } from '../words/languages.ts';
import type { Upcoming } from './upcoming.ts';
import type { View } from './view.ts';

export const sectionIn = (section: Section | undefined, language: Language): string =>
  (section ? (section.name ?? language.say.class.section[section.kind]) : '');
export const sectionName = (section: Section | undefined): string => sectionIn(section, english);

/** What a talk is called: its section, or the break that was put in. */
export const talkName = (i: Interval, section: Section | undefined, language: Language = english): string =>
  (i.break === 'water' ? language.say.class.water : sectionIn(section, language));

export const pauseWords: Record<PauseReason, string> = { form: 'Form', water: 'Water', question: 'Question', other: 'Other' };

const factsIn = (session: Session, movement: string, language: Language): Facts => language.facts(movement, factsFor(session.facts, movement));

/** The words for a limb or a side. */
export function sidePhrase(session: Session, movement: string | null, side: Side, language: Language = english): string {
  return (movement ? factsIn(session, movement, language).phrases?.[side] : undefined) ?? language.say.class.side[side];
}

export const movementName = (session: Session, movement: string | null, language: Language = english): string =>
  (movement ? factsIn(session, movement, language).name : '');

export interface Words {
  /** What this is: the movement, or the part of the class. */
  readonly title: string;
  /** Top right: round, turn, or what to do with the eyes. */
  readonly corner: string;
  /** By the seconds: limb, set-up, count. */
  readonly line: string;
  /** The same as it is said, a breath a line: "Set up:" and "on your back", "10 reps" and "right leg back". */
  readonly lines: readonly string[];
  /** "Next, on the floor" and the movement. */
  readonly nextLabel: string;
  readonly next: string;
  readonly option: string;
}

export function words(session: Session, v: View, language: Language = english): Words {
  const section = session.plan.sections[v.interval?.section ?? session.plan.sections.length - 1];
  const { class: say } = language.say;
  const said = linesOf(session, v, language);
  const quiet = v.moving !== null || v.stopped !== null;
  const round = v.phase === 'work' && v.interval?.stations && v.next?.kind === 'stations';
  return {
    title: titleOf(session, v, section, language),
    corner: cornerOf(v, language),
    line: said.join(', '),
    lines: said.flatMap(breaths),
    nextLabel: nextLabelOf(v, language),
    next: quiet ? '' : v.paused ? resumeWords(session, v, language) : round ? say.moveRound : nextWords(session, v.next, language),
    option: quiet || !v.movement ? '' : (factsIn(session, v.movement, language).option ?? ''),
  };
}

/** "Set up: on your back" is said in two breaths. */
function breaths(line: string): string[] {
  const at = line.indexOf(': ');
  return at === -1 ? [line] : [line.slice(0, at + 1), line.slice(at + 2)];
}

function titleOf(session: Session, v: View, section: Section | undefined, language: Language): string {
  const { class: say } = language.say;
  if (v.stopped) return say.pleaseStop;
  if (v.moving) return say.keepMoving;
  if (v.paused) return say.paused;
  switch (v.phase) {
    // After a stop nobody is congratulated.
    case 'over': return session.wasStopped || session.pause?.stop ? say.classOver : say.wellDone;
    case 'talk': return v.interval ? talkName(v.interval, section, language) : '';
    case 'rest': return v.interval?.stations ? say.moveRound : say.rest;
    default: return v.interval?.stations ? (v.phase === 'work' ? say.stations : say.moveRound) : movementName(session, v.movement, language);
  }
}

function cornerOf(v: View, { say: { class: say } }: Language): string {
  if (v.stopped) return '';
  if (v.moving) return say.marchEasily;
  if (v.paused) return v.paused.reason === 'water' ? say.haveWater : say.stayEasy;
  if (v.phase === 'watch') return say.watchFirst;
  if (v.phase === 'talk' || v.phase === 'over') return '';
  if (v.interval?.kind === 'other-side') return say.otherSide;
  const turns = v.interval?.stations;
  if (turns) return say.turn(turns.turn + 1);
  if (!v.round) return '';
  return v.round.n === v.round.of ? say.lastRound : say.round(v.round.n, v.round.of);
}

function linesOf(session: Session, v: View, language: Language): string[] {
  const { interval, phase } = v;
  const { class: say } = language.say;
  if (!interval || phase === 'over' || phase === 'talk' || v.moving || v.stopped) return [];
  const phrase = v.side ? sidePhrase(session, v.movement, v.side, language) : '';
  const target = interval.target ? say.target[interval.target.of](interval.target.n) : '';
  switch (phase) {
    case 'work': return [target, phrase || (interval.alternating ? say.sideToSide : '')].filter(Boolean);
    case 'other-side': return [phrase].filter(Boolean);
    case 'count-in': return [phrase || say.getReady];
    case 'set-up': return [interval.stations ? say.goToNextPlace : say.setUp[v.movement ? factsFor(session.facts, v.movement).start : 'standing']];
    case 'rest': return [];
    case 'watch': return [];
  }
}

function nextLabelOf(v: View, { say: { class: say } }: Language): string {
  if (v.moving || v.stopped) return '';
  if (v.paused) return v.seconds === null ? say.thenOn : say.thenMore(v.seconds);
  if (v.phase === 'over') return '';
  const lead = v.phase === 'set-up' || v.phase === 'count-in' || v.phase === 'watch' ? say.afterReady : say.afterWork;
  return lead[v.next?.way ?? 'same'];
}

/** What a pause goes back to. */
function resumeWords(session: Session, v: View, language: Language): string {
  if (v.side) return capital(sidePhrase(session, v.movement, v.side, language));
  if (v.interval?.stations) return language.say.class.stations;
  return v.interval?.kind === 'talk' ? talkName(v.interval, session.plan.sections[v.interval.section], language) : movementName(session, v.movement, language);
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function nextWords(session: Session, next: Upcoming | null, language: Language): string {
  if (!next) return '';
  switch (next.kind) {
    case 'end': return language.say.class.finish;
    case 'talk': return sectionIn(session.plan.sections[next.section], language);
    case 'water': return language.say.class.water;
    case 'stations': return language.say.class.stations;
    case 'movement': return movementName(session, next.movement, language);
  }
}

/** A point in time as the clock on the wall says it: hours and minutes. */
export const clockTime = (at: ServerAt, timeZone: string, language: Language = english): string => language.clock(at, timeZone);

/** A length in the words of a room: "35 s", "1 min", "4 min 30 s". */
export function lengthWords(ms: number): string {
  const s = Math.round(ms / 1_000);
  const [min, rest] = [Math.floor(s / 60), s % 60];
  if (min === 0) return `${rest} s`;
  return rest === 0 ? `${min} min` : `${min} min ${rest} s`;
}
