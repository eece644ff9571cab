/**
 * Owns what a class came to, folded from its log: plan against fact for each
 * interval, the pauses, the changes, the sides. Walks the same stretches that the
 * ledger books, so that both add up to the same time. Leaves alone the sentences
 * (report-words.ts) and the drawing (desk).
 */
import type { Interval, IntervalKind, Side } from '../plan/interval.ts';
import { startsMs } from '../plan/totals.ts';
import type { Event } from '../session/command.ts';
import { evolve } from '../session/evolve.ts';
import { ledger } from '../session/ledger.ts';
import { placeAt, type Stretch, walk } from '../session/place.ts';
import type { Accounts, PauseReason, Session, Standstill } from '../session/session.ts';
import { settle } from '../session/settle.ts';
import { after, between, later, type ServerAt } from '../time/units.ts';
import { type Mark, marksOf, summed } from './marks.ts';
import { openRoll } from './roll.ts';

export interface Row {
  readonly interval: Interval;
  /** Null where it was not in the plan. */
  readonly planned: { readonly startMs: number; readonly lengthMs: number } | null;
  /** Null where nobody was ever in it. Milliseconds of all its passes; the start is the first one's. */
  readonly real: { readonly startMs: number; readonly lengthMs: number } | null;
  /** Time that was held before it or in it and is not its own. */
  readonly countInMs: number;
  readonly pausedMs: number;
  readonly marks: readonly Mark[];
}

/** One board of the floor as it was walked: milliseconds from the start of the class. */
export interface WalkedBoard {
  readonly what: Stretch['what'];
  readonly interval: string;
  readonly kind: IntervalKind;
  readonly section: number;
  readonly startMs: number;
  readonly lengthMs: number;
}

export interface PauseRow {
  readonly number: number;
  readonly at: ServerAt;
  readonly lengthMs: number;
  readonly reason: PauseReason | null;
  readonly what: Standstill;
  readonly interval: Interval | null;
  readonly runs: boolean;
}

export interface Change {
  readonly at: ServerAt;
  readonly event: Event;
  /** The interval that ran when it was pressed. */
  readonly interval: Interval | null;
  /** What it took back, where it did. */
  readonly undoes: Event | null;
}

export interface SidesRow {
  readonly pair: string;
  readonly movement: string | null;
  readonly round: number;
  readonly leftMs: number;
  readonly rightMs: number;
  /** The side with less, or null where they are even. */
  readonly owed: Side | null;
}

export interface Report {
  readonly session: Session;
  /** Every interval that was ever in the list, as it last was: what the log names is found here. */
  readonly known: ReadonlyMap<string, Interval>;
  readonly endAt: ServerAt;
  readonly totalMs: number;
  /** How much later than promised it ended, or will; less than 0 is early. */
  readonly lateMs: number;
  readonly plannedMs: number;
  readonly rows: readonly Row[];
  readonly walked: readonly WalkedBoard[];
  readonly pauses: readonly PauseRow[];
  readonly changes: readonly Change[];
  readonly accounts: Accounts;
  readonly sides: readonly SidesRow[];
}

interface Tally { startMs: number | null; lengthMs: number; countInMs: number; pausedMs: number; passes: Set<number>; marks: Mark[] }
type Draft = { -readonly [K in keyof PauseRow]: PauseRow[K] };

/** What the log adds up to at `now`; null for an empty log. */
export function report(events: readonly Event[], now: ServerAt): Report | null {
  const [first, ...rest] = events;
  if (first?.type !== 'started') return null;
  let s = evolve(null, first);
  const tallies = new Map<string, Tally>();
  const walked: WalkedBoard[] = [];
  const pauses: Draft[] = [];
  const changes: Change[] = [];
  const tally = (id: string): Tally => {
    const known = tallies.get(id) ?? { startMs: null, lengthMs: 0, countInMs: 0, pausedMs: 0, passes: new Set<number>(), marks: [] };
    tallies.set(id, known);
    return known;
  };
  const walkTo = (at: ServerAt) => walk(s, at, (stretch) => {
    const interval = s.intervals[stretch.index] as Interval;
    book(tally(interval.id), stretch, between(s.startedAt, stretch.from), s.goneBack);
    const last = pauses.at(-1);
    if (stretch.what === 'paused' && last) last.lengthMs += stretch.ms;
    lay(walked, stretch, interval, between(s.startedAt, stretch.from));
  });
  const takePause = (at: ServerAt, interval: Interval | null) => {
    const last = pauses.at(-1);
    if (s.pause && last?.number !== s.pause.number) {
      pauses.push({ number: s.pause.number, at, lengthMs: 0, reason: s.pause.reason, what: s.pause.what, interval, runs: false });
    } else if (s.pause && last) last.reason = s.pause.reason;
  };

  const roll = openRoll(s.intervals);
  let lastEdit: Event | null = null;

  for (const event of rest) {
    const place = walkTo(event.at);
    const interval = s.intervals[place.index] ?? null;
    const leftMs = interval?.ends === 'clock' ? interval.lengthMs - place.elapsedMs : 0;
    for (const { id, mark } of marksOf(event, interval, leftMs)) tally(id).marks.push(mark);
    changes.push({ at: event.at, event, interval, undoes: event.type === 'undone' ? lastEdit : null });
    if ('edit' in event && event.type !== 'undone') lastEdit = event;
    s = evolve(s, event);
    roll.follow(s.intervals, event.type);
    takePause(event.at, interval);
  }
  const at = later(now, s.lastAt);
  const place = walkTo(at);
  const standing = s.pause && place.over ? s.anchor : null;
  const done = settle(s, at);
  const last = pauses.at(-1);
  if (last) last.runs = done.pause?.number === last.number;
  const endAt = place.over?.at ?? at;
  if (place.over?.how === 'forgotten') cutForgotten(s, standing?.index ?? indexAt(s, endAt), tally, standing?.elapsedMs ?? 0);
  const starts = startsMs(first.intervals);
  const plannedAt = new Map(first.intervals.map((i, k) => [i.id, { startMs: starts[k] ?? 0, lengthMs: i.lengthMs }]));
  const placeOf = new Map(s.intervals.map((i, k) => [i.id, k]));
  const reached = lastReached(s.intervals, tallies);
  return {
    session: done,
    known: roll.known,
    endAt,
    totalMs: between(s.startedAt, endAt),
    lateMs: between(s.promisedAt, endAt),
    plannedMs: first.intervals.reduce((sum, i) => sum + i.lengthMs, 0),
    rows: roll.list().flatMap((interval): Row[] => {
      const out = roll.outBy(interval.id);
      const index = placeOf.get(interval.id) ?? -1;
      const t = tallies.get(interval.id);
      const planned = plannedAt.get(interval.id) ?? null;
      const real = t && t.startMs !== null ? { startMs: t.startMs, lengthMs: t.lengthMs } : null;
      const marks = [
        ...(planned ? [] : [{ what: 'added' } as const]),
        ...summed(t?.marks ?? []),
        ...(t && t.passes.size > 1 ? [{ what: 'repeated', times: t.passes.size - 1 } as const] : []),
        ...(out ? [{ what: 'out', by: out } as const] : place.over ? (real ? [] : [{ what: index < reached ? 'skipped' : 'not-reached' } as const])
          : index === place.index ? [{ what: 'runs' } as const]
            : real ? [] : [{ what: index < place.index ? 'skipped' : 'to-come' } as const]),
      ];
      // Put in and taken back again, and no time was ever booked to it: the changes tell of it.
      if (out && !planned && !real && !t?.pausedMs && !t?.countInMs) return [];
      return [{ interval, planned, real, countInMs: t?.countInMs ?? 0, pausedMs: t?.pausedMs ?? 0, marks }];
    }),
    walked,
    pauses,
    changes,
    accounts: ledger(s, at).accounts,
    sides: sidesRows(done),
  };
}

function book(t: Tally, { what, ms }: Stretch, startMs: number, pass: number): void {
  if (what === 'paused') t.pausedMs += ms;
  else if (what === 'count-in') t.countInMs += ms;
  else {
    t.startMs ??= startMs;
    t.lengthMs += ms;
    t.passes.add(pass);
  }
}

/** Lays one more board; what an event only touched goes on as the same board. */
function lay(walked: WalkedBoard[], { what, ms }: Stretch, { id, kind, section }: Interval, startMs: number): void {
  const last = walked.at(-1);
  if (last && last.what === what && last.interval === id) walked[walked.length - 1] = { ...last, lengthMs: last.lengthMs + ms };
  else walked.push({ what, interval: id, kind, section, startMs, lengthMs: ms });
}

/** Where a class stood just before it was forgotten: it waited for a go. */
const indexAt = (s: Session, endAt: ServerAt): number => placeAt(s, after(endAt, -1)).index;

function cutForgotten(s: Session, index: number, tally: (id: string) => Tally, elapsedMs: number): void {
  const interval = s.intervals[index];
  if (interval?.ends === 'clock' && interval.lengthMs > elapsedMs) {
    tally(interval.id).marks.push({ what: 'cut', byMs: interval.lengthMs - elapsedMs });
  }
}

const lastReached = (intervals: readonly Interval[], tallies: ReadonlyMap<string, Tally>): number =>
  intervals.findLastIndex((i) => (tallies.get(i.id)?.startMs ?? null) !== null);

function sidesRows(s: Session): SidesRow[] {
  return Object.entries(s.sides).map(([pair, { left, right }]) => {
    const work = s.intervals.find((i) => i.pair === pair);
    return {
      pair, movement: work?.movement ?? null, round: work?.round ?? 0, leftMs: left, rightMs: right,
      owed: left === right ? null : left < right ? 'left' : 'right',
    };
  });
}
