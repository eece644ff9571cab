/**
 * Owns what every screen shows of a class at an instant, as data. Pure: looking
 * changes nothing, and every surface that asks at the same instant gets the same
 * answer. Leaves alone the words (words.ts) and the drawing (ui).
 */
import { COUNT_IN_MS, STOP_UNTOUCHED_MS } from '../limits.ts';
import type { Interval, Side } from '../plan/interval.ts';
import { after, later, type ServerAt, serverAt } from '../time/units.ts';
import { easyFromAt } from '../session/commands/keep-moving.ts';
import { answerOf } from '../session/commands/stop.ts';
import { finish } from '../session/finish.ts';
import { occurrenceOf, placeAt, type Place, toWorkMs } from '../session/place.ts';
import type { Pause, Session, Stop } from '../session/session.ts';
import { nextOf, type Upcoming } from './upcoming.ts';

/** What the room is doing. A pause is beside it, not among it. */
export type Phase = 'talk' | 'watch' | 'set-up' | 'count-in' | 'work' | 'other-side' | 'rest' | 'over';

/** How one half of the room stands: solid while it works, an outline while it waits its turn, else nothing. */
export type Half = 'solid' | 'outline' | 'none';

export interface Moving { readonly since: ServerAt; readonly aimAt: ServerAt | null }
export interface Stopped extends Stop { readonly since: ServerAt }

export interface View {
  readonly at: ServerAt;
  readonly phase: Phase;
  /** Whatever the clock stands for: a pause, keeping moving, a stop. */
  readonly paused: Session['pause'];
  /** Everybody marches easily; where it has an aim, until when. */
  readonly moving: Moving | null;
  readonly stopped: Stopped | null;
  readonly interval: Interval | null;
  /** The name that a command must carry. */
  readonly occurrence: string;
  /** Whether it waits for the instructor's go. */
  readonly waits: boolean;
  /** Whole seconds to show, rounded up; null where nothing is counted (talk, watch, go, follow me). */
  readonly seconds: number | null;
  /** Part of this interval that is left, 1 to 0. In a count-in and where it waits: 1. */
  readonly share: number;
  readonly tide: { readonly left: Half; readonly right: Half };
  /** The last three seconds of work. */
  readonly closing: boolean;
  /** The movement that is done, set up for, watched; in a rest the one that comes. */
  readonly movement: string | null;
  readonly side: Side | null;
  readonly round: { readonly n: number; readonly of: number } | null;
  /** Follow me: which prompt of the block it is. Stations: which turn. */
  readonly prompt: number | null;
  readonly next: Upcoming | null;
  /** Where now is on the floor, in milliseconds of plan. */
  readonly floorMs: number;
  readonly promisedAt: ServerAt;
  /** When the class will end as things stand; for the phone, never for the room. */
  readonly projectedAt: ServerAt;
  readonly over: Session['over'];
  /** The next instant at which something other than the tide and the notch changes; null if nothing will by itself. */
  readonly nextEdgeAt: ServerAt | null;
}

const CLOSING_MS = 3_000;

export function view(s: Session, when: ServerAt): View {
  const at = later(when, s.lastAt);
  const place = placeAt(s, at);
  const interval = s.intervals[place.index] ?? null;
  const toWork = toWorkMs(s, place);
  const phase = phaseOf(s, interval, place, toWork);
  const standing = place.over ? null : s.pause;
  const plain = standing !== null && standing.what !== 'pause';
  const counted = plain ? null : countedMs(interval, place, phase, toWork);
  const prompt = promptOf(interval, place);
  return {
    at,
    phase,
    paused: standing,
    moving: standing?.what === 'keep-moving' ? { since: standing.since, aimAt: standing.aimAt } : null,
    stopped: standing?.stop ? { ...standing.stop, answer: answerOf(standing.stop, standing.since, at), since: standing.since } : null,
    interval,
    occurrence: occurrenceOf(s, place.index),
    waits: interval?.ends === 'go' && place.countInMs === 0,
    seconds: counted === null ? null : Math.ceil(counted / 1_000),
    share: shareOf(interval, place, phase),
    tide: plain ? none : tideOf(s, interval, place, phase),
    closing: phase === 'work' && counted !== null && counted <= CLOSING_MS,
    movement: movementOf(s, interval, place, prompt),
    side: interval?.side ?? null,
    round: roundOf(s, interval),
    prompt,
    next: nextOf(s, place, prompt),
    floorMs: floorMsOf(s, place),
    promisedAt: s.promisedAt,
    projectedAt: finish(s, at).endAt,
    over: place.over,
    nextEdgeAt: place.over ? null : standing ? standingEdgeAt(s, standing, at) : edgeOf(interval, place, counted, toWork, at),
  };
}

const none = { left: 'none', right: 'none' } as const;

/** While the clock stands little changes by itself: a stop that nobody touches, standing that gets long, an aim that is reached. */
function standingEdgeAt(s: Session, { stop, since, aimAt }: Pause, at: ServerAt): ServerAt | null {
  const edges = [
    stop && stop.answer === null ? after(since, STOP_UNTOUCHED_MS) : null,
    // "More than" five minutes: the instant after them.
    easyFromAt(s) === null ? null : after(easyFromAt(s) ?? at, 1),
    aimAt,
  ].filter((edge) => edge !== null && edge > at) as ServerAt[];
  return edges.length === 0 ? null : serverAt(Math.min(...edges));
}

function phaseOf(s: Session, interval: Interval | null, place: Place, toWork: number | null): Phase {
  if (!interval || place.over) return 'over';
  const counting = toWork !== null && toWork > 0 && toWork <= Math.max(COUNT_IN_MS, s.settings.countInMs);
  if (place.countInMs > 0) return counting ? 'count-in' : 'set-up';
  switch (interval.kind) {
    case 'talk': return 'talk';
    case 'show': return counting ? 'count-in' : 'watch';
    case 'work': return 'work';
    case 'rest': return counting ? 'count-in' : 'rest';
    case 'other-side': return counting ? 'count-in' : 'other-side';
    case 'set-up': return counting ? 'count-in' : 'set-up';
  }
}

/** Milliseconds that the digits count, or null where there are none. */
function countedMs(interval: Interval | null, place: Place, phase: Phase, toWork: number | null): number | null {
  if (!interval || phase === 'over' || phase === 'talk') return null;
  if (phase === 'count-in' || phase === 'set-up' || phase === 'other-side') return toWork;
  if (interval.ends === 'go' || interval.prompts || phase === 'watch') return null;
  return interval.lengthMs - place.elapsedMs;
}

function shareOf(interval: Interval | null, place: Place, phase: Phase): number {
  if (!interval || phase === 'over') return 0;
  if (place.countInMs > 0) return 1;
  if (interval.ends === 'go') return 1;
  return Math.min(1, Math.max(0, (interval.lengthMs - place.elapsedMs) / interval.lengthMs));
}

function tideOf(s: Session, interval: Interval | null, place: Place, phase: Phase): View['tide'] {
  const both = (half: Half) => ({ left: half, right: half });
  if (!interval || phase === 'over' || phase === 'talk' || phase === 'watch') return both('none');
  if (phase === 'work') {
    if (!interval.side) return both('solid');
    const other = interval.side === 'left' ? 'right' : 'left';
    const waits = s.intervals.some((i, k) => k > place.index && i.kind === 'work' && i.pair === interval.pair && i.round === interval.round && i.side === other);
    return { ...both(waits ? 'outline' : 'none'), [interval.side]: 'solid' };
  }
  return interval.side && phase !== 'rest' ? { ...both('none'), [interval.side]: 'outline' } : both('outline');
}

function promptOf(interval: Interval | null, place: Place): number | null {
  if (interval?.stations) return interval.stations.turn;
  const count = interval?.prompts?.length ?? 0;
  if (!interval || count === 0) return null;
  if (interval.kind !== 'work') return 0;
  return Math.min(count - 1, Math.floor((place.elapsedMs * count) / interval.lengthMs));
}

function movementOf(s: Session, interval: Interval | null, place: Place, prompt: number | null): string | null {
  if (!interval || interval.stations) return null;
  if (interval.prompts) return interval.prompts[prompt ?? 0] ?? null;
  if (interval.movement) return interval.movement;
  return interval.kind === 'rest' ? (s.intervals.slice(place.index).find((i) => i.kind === 'work')?.movement ?? null) : null;
}

function roundOf(s: Session, interval: Interval | null): View['round'] {
  if (!interval || interval.round === 0) return null;
  const of = s.intervals.reduce((most, i) => (i.section === interval.section ? Math.max(most, i.round) : most), 0);
  return of > 1 ? { n: interval.round, of } : null;
}

function floorMsOf(s: Session, place: Place): number {
  let sum = 0;
  for (let k = 0; k < place.index && k < s.intervals.length; k += 1) sum += s.intervals[k]?.lengthMs ?? 0;
  return sum + Math.min(place.elapsedMs, s.intervals[place.index]?.lengthMs ?? 0);
}

function edgeOf(interval: Interval | null, place: Place, counted: number | null, toWork: number | null, at: ServerAt): ServerAt | null {
  if (!interval) return null;
  const steps: number[] = [];
  if (place.countInMs > 0) steps.push(place.countInMs);
  else if (interval.ends === 'clock') steps.push(interval.lengthMs - place.elapsedMs);
  if (counted !== null) steps.push(counted % 1_000 || 1_000);
  if (toWork !== null && toWork > COUNT_IN_MS) steps.push(toWork - COUNT_IN_MS);
  if (interval.prompts && interval.kind === 'work') {
    const each = interval.lengthMs / interval.prompts.length;
    steps.push(Math.ceil(each - (place.elapsedMs % each)));
  }
  return steps.length === 0 ? null : after(at, Math.max(1, Math.min(...steps)));
}
