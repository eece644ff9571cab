/**
 * Owns which signals a class gives and when, computed from its anchor as the view
 * is: nothing is scheduled, so a signal that falls in a pause moves with it.
 * Leaves alone who plays them (signal-player.ts) and how they sound.
 */
import { COUNT_IN_MS } from '../limits.ts';
import type { Interval } from '../plan/interval.ts';
import { sidesWay } from '../plan/pieces.ts';
import { occurrenceOf, placeAt } from '../session/place.ts';
import type { Session } from '../session/session.ts';
import { after, type ServerAt } from '../time/units.ts';
import { APART_MS, CAPTION_MS, captionOf, giveWay, type Signal, type SignalKind, TEN_LEFT_LEAST_MS } from './signal-kinds.ts';
import type { Language } from '../words/language.ts';
import { english } from '../words/languages.ts';
import { sectionIn, sidePhrase } from './words.ts';

export interface SignalOptions {
  /** A signal in the middle of work; off unless the studio wants it. */
  readonly halfway: boolean;
  /** Of the captions; English where none is given. */
  readonly language?: Language;
}

const SECOND_MS = 1_000;
const counting: readonly (readonly [SignalKind, number])[] = [['three', 3], ['two', 2], ['one', 1]];
const closing: readonly (readonly [SignalKind, number])[] = [['last-three', 3], ['last-two', 2], ['last-one', 1]];
const TEN_MS = 10_000;

/** The signals of a class from one instant up to, not including, another, as things stand. */
export function signalsBetween(s: Session, from: ServerAt, to: ServerAt, options: SignalOptions): readonly Signal[] {
  const near = candidates(s, after(from, -APART_MS), after(to, APART_MS), options);
  return giveWay(near).filter((signal) => signal.at >= from && signal.at < to);
}

/** The signal whose caption is on the screen, as far as the class alone can tell: nothing before its newest event. */
export function captionAt(s: Session, at: ServerAt, options: SignalOptions): Signal | null {
  return captionOf(signalsBetween(s, after(at, -CAPTION_MS), after(at, 1), options), at);
}

/** All signals of a stretch before any gives way. */
export function candidates(s: Session, from: ServerAt, to: ServerAt, options: SignalOptions): readonly Signal[] {
  const found: Signal[] = [];
  const add = (kind: SignalKind, at: ServerAt, index: number) => {
    if (at >= from && at < to) found.push(signalOf(s, kind, at, index, options));
  };
  if (s.over || s.pause) {
    // After a stop the end is silent too, and so is the pause that leads out of one.
    if (s.over && s.over.how !== 'forgotten' && !s.wasStopped) add('class-end', s.over.at, s.intervals.length);
    if (s.pause && s.pause.what !== 'stop' && !s.pause.quiet) add('paused', s.pause.since, s.anchor.index);
    return found;
  }
  const { anchor } = s;
  /** From here on the room does not work; a count-in can begin here. */
  let idleAt = anchor.at;
  let startAt = after(anchor.at, anchor.countInMs - anchor.elapsedMs);
  for (let i = anchor.index; startAt < after(to, COUNT_IN_MS); i += 1) {
    const interval = s.intervals[i];
    if (!interval) {
      add('class-end', startAt, i);
      break;
    }
    const landed = i === anchor.index;
    const runsAt = landed ? after(anchor.at, anchor.countInMs) : startAt;
    const endsAt = interval.ends === 'clock' ? after(startAt, interval.lengthMs) : null;
    const past = endsAt !== null && endsAt < from;
    if (interval.kind === 'work' && !past) {
      if (!landed || anchor.countInMs > 0) {
        for (const [kind, n] of counting) if (runsAt - n * SECOND_MS >= idleAt) add(kind, after(runsAt, -n * SECOND_MS), i);
        add('go', runsAt, i);
      }
      // In a follow-me block the room follows the instructor, and nothing is counted.
      if (endsAt !== null && !interval.prompts) {
        const within = (kind: SignalKind, at: ServerAt) => at >= runsAt && add(kind, at, i);
        for (const [kind, n] of closing) within(kind, after(endsAt, -n * SECOND_MS));
        if (saysTenLeft(s, i, interval)) within('ten-left', after(endsAt, -TEN_MS));
        if (options.halfway && saysHalfway(s, interval)) within('halfway', after(startAt, Math.round(interval.lengthMs / 2)));
      }
    }
    if (endsAt === null) break;
    const next = s.intervals[i + 1];
    if (next && interval.kind === 'work') {
      // Work that follows at once begins with go; an end there would stop the room.
      if (!past && next.kind !== 'work') add(endOf(s, interval, i, next), endsAt, i);
      idleAt = endsAt;
    }
    startAt = endsAt;
  }
  return found;
}

/** How the end of work sounds, by what follows it. */
function endOf(s: Session, work: Interval, index: number, next: Interval): SignalKind {
  if (next.kind === 'other-side') return 'side-change';
  return s.intervals.some((i, k) => k > index && i.kind === 'work' && i.section === work.section) ? 'end' : 'section-end';
}

/** What the room must be told when a command ended what ran: work that was left, or a pause. */
export function signalOfCommand(before: Session, now: Session, options: Pick<SignalOptions, 'language'> = {}): Signal | null {
  const at = now.lastAt;
  if (before.pause) return now.pause || now.over ? null : signalOf(now, 'resumed', at, now.anchor.index, options);
  const place = placeAt(before, at);
  const left = before.intervals[place.index];
  const landed = now.intervals[now.anchor.index];
  const jumped = now.anchor.at === at && now.anchor.elapsedMs === 0 && now.goneBack === before.goneBack;
  if (left?.kind !== 'work' || place.countInMs > 0 || !landed || !jumped || landed.id === left.id) return null;
  return signalOf(before, endOf(before, left, place.index, landed), at, place.index, options);
}

const isHalved = (s: Session, work: Interval): boolean => {
  const section = s.plan.sections[work.section];
  const item = section?.items[work.item];
  return work.side !== undefined && section !== undefined && item !== undefined && sidesWay(section, item, s.facts) === 'half';
};

/** Only of long work; where both sides share it, only once, near the end of the whole. */
function saysTenLeft(s: Session, index: number, work: Interval): boolean {
  if (!isHalved(s, work)) return work.lengthMs >= TEN_LEFT_LEAST_MS;
  const ofPair = s.intervals.map((i, k) => ({ i, k })).filter(({ i }) => i.kind === 'work' && i.pair === work.pair);
  const wholeMs = ofPair.reduce((sum, { i, k }) => sum + (k <= index ? i.lengthMs : 0), 0);
  return wholeMs >= TEN_LEFT_LEAST_MS && !ofPair.some(({ k }) => k > index);
}

/** Where both sides share the work, its middle is the change of sides. */
const saysHalfway = (s: Session, work: Interval): boolean => work.lengthMs >= TEN_LEFT_LEAST_MS && !isHalved(s, work);

function signalOf(s: Session, kind: SignalKind, at: ServerAt, index: number, { language = english }: Pick<SignalOptions, 'language'>): Signal {
  const concerned = kind === 'side-change' ? (s.intervals[index + 1] ?? s.intervals[index]) : s.intervals[index];
  const movement = concerned?.movement;
  const signal = { kind, at, occurrence: occurrenceOf(s, index), caption: captionWords(s, kind, concerned, language) };
  return movement === undefined ? signal : { ...signal, movement };
}

function captionWords(s: Session, kind: SignalKind, interval: Interval | undefined, language: Language): string {
  const { signal: say, class: said } = language.say;
  switch (kind) {
    case 'three': return language.number(3);
    case 'two': return language.number(2);
    case 'one': return language.number(1);
    case 'go': return say.go;
    case 'last-three':
    case 'last-two':
    case 'last-one': return say.lastThree;
    case 'ten-left': return say.tenLeft;
    case 'halfway': return say.halfway;
    case 'side-change': return interval?.side ? say.otherSide(sidePhrase(s, interval.movement ?? null, interval.side, language)) : said.otherSide;
    case 'end': return say.done;
    case 'section-end': return say.sectionDone(sectionIn(s.plan.sections[interval?.section ?? -1], language));
    case 'class-end': return said.wellDone;
    case 'paused': return s.pause?.what === 'keep-moving' ? said.keepMoving : said.paused;
    case 'resumed': return say.carryOn;
  }
}
