/**
 * Owns what is kept of one class beside its log, made from the log alone and from what
 * the library says of its movements. Pure. Leaves alone where it is kept (records.ts).
 */
import { kcalPerKg, STANDING_MET, type Effortful } from '../../shared/effort/energy.ts';
import { levelOf } from '../../shared/effort/week.ts';
import { LATE_FROM_MS } from '../../shared/limits.ts';
import type { Interval } from '../../shared/plan/interval.ts';
import type { Event } from '../../shared/session/command.ts';
import { factsFor } from '../../shared/plan/facts.ts';
import { serverAt } from '../../shared/time/units.ts';
import { type Report, report } from '../../shared/view/report.ts';
import type { ClassRecord, Move, sectionKinds } from '../../shared/wire/review.ts';

/** What the library says of a movement beside its name. */
export interface Kind { readonly met: number; readonly pattern: string }
export type Kinds = Readonly<Record<string, Kind>>;

export interface Cut { readonly kind: (typeof sectionKinds)[number]; readonly ms: number; readonly plannedMs: number }
export interface Recorded {
  readonly record: Omit<ClassRecord, 'effort'>;
  readonly moves: readonly Move[];
  readonly cuts: readonly Cut[];
  /** Somebody needed help: it is in no figure and no export. */
  readonly stopped: boolean;
}

const MINUTE_MS = 60_000;
/** Classes of one series begin in the same quarter of an hour, to the nearest. */
const SERIES_MIN = 15;

/** A class in which Stop was pressed is left out of all figures, whatever it was for: nobody has to ask. */
export const wasStopped = (events: readonly { readonly type: string }[]): boolean => events.some((e) => e.type === 'stopped');

/** Null where the log is empty or the class still runs at `now`. */
export function recordOf(events: readonly Event[], kinds: Kinds, local: LocalTime, now: number): Recorded | null {
  const r = report(events, serverAt(now));
  const over = r?.session.over;
  if (!r || !over) return null;
  const { session } = r;
  const { day, minute } = local(session.startedAt);
  const moves = movesOf(r);
  const cuts = cutsOf(r);
  const workMs = r.accounts.together + r.accounts.left + r.accounts.right;
  const spent: Effortful[] = [...moves.values()].map((m) => ({ met: kinds[m.movement]?.met ?? STANDING_MET, minutes: m.workMs / MINUTE_MS }));
  const ofLevel = (level: string) => [...moves.values()].reduce((sum, m) => sum + (levelOf(kinds[m.movement]?.met ?? 0) === level ? m.workMs : 0), 0);
  const saidMs = freeSaid(events) ? r.plannedMs + session.startedAt - session.promisedAt : null;
  const lateStartMs = saidMs === null ? null : Math.max(0, saidMs);
  const grewMs = saidMs === null ? null : r.lateMs - Math.max(0, saidMs);
  const patterns = new Set([...moves.values()].filter((m) => m.workMs > 0).map((m) => kinds[m.movement]?.pattern));
  return {
    stopped: wasStopped(events),
    record: {
      id: session.id, room: session.room, plan: session.plan.id, name: session.plan.name,
      series: session.plan.series ? `${OF_PLAN}${session.plan.series.name}` : seriesOf(session.room, day, minute),
      startedAt: session.startedAt, endedAt: r.endAt, day, minute, how: over.how, headCount: session.headCount,
      plannedMs: r.plannedMs, totalMs: r.totalMs, workMs, pausedMs: r.accounts.paused,
      pauses: r.pauses.length, formStops: r.pauses.filter((p) => p.reason === 'form').length,
      showPlannedMs: sum(moves, 'showPlannedMs'), showRealMs: sum(moves, 'showRealMs'),
      lateMs: r.lateMs, lateStartMs, grewMs,
      late: (lateStartMs ?? 0) > LATE_FROM_MS || r.lateMs > LATE_FROM_MS || events.some((e) => e.type === 'way-taken' && e.kind !== 'longer'),
      cutMs: cuts.reduce((all, c) => all + c.ms, 0),
      moderateMs: ofLevel('moderate'), vigorousMs: ofLevel('vigorous'),
      muscle: [...patterns].some((p) => p !== undefined && p !== 'stretch' && p !== 'locomotion' && p !== 'balance'), balance: patterns.has('balance'),
      kcalPerKg: kcalPerKg([...spent, { met: STANDING_MET, minutes: Math.max(0, r.totalMs - sum(moves, 'workMs')) / MINUTE_MS }]),
    },
    moves: [...moves.values()],
    cuts,
  };
}

type Draft = { -readonly [K in keyof Move]: Move[K] };
const sum = (moves: ReadonlyMap<string, Draft>, of: 'workMs' | 'showPlannedMs' | 'showRealMs'): number => [...moves.values()].reduce((all, m) => all + m[of], 0);

/** Whether somebody said when the floor must be free; where only the slot says so, nothing is known of a late start. */
function freeSaid(events: readonly Event[]): boolean {
  const [first] = events;
  if (first?.type !== 'started' || first.freeAt === null) return false;
  return first.plan.slot === undefined || first.freeAt - first.at !== first.plan.slot * 1_000;
}

/** The movements that an interval is worked in; a block and stations in equal parts. */
function sharesOf(i: Interval): readonly { readonly movement: string; readonly share: number }[] {
  const list = i.stations?.movements ?? i.prompts ?? (i.movement ? [i.movement] : []);
  return list.map((movement) => ({ movement, share: 1 / list.length }));
}

function movesOf(r: Report): Map<string, Draft> {
  const moves = new Map<string, Draft>();
  const of = (movement: string): Draft => {
    const known = moves.get(movement) ?? { movement, name: factsFor(r.session.facts, movement).name, workMs: 0, formStops: 0, shows: 0, showPlannedMs: 0, showRealMs: 0, cutMs: 0 };
    moves.set(movement, known);
    return known;
  };
  for (const { interval, planned, real } of r.rows) {
    if (interval.kind === 'work') {
      for (const { movement, share } of sharesOf(interval)) {
        const m = of(movement);
        m.workMs += Math.round((real?.lengthMs ?? 0) * share);
        m.cutMs += Math.round(undone(planned, real) * share);
      }
    }
    if (interval.kind === 'show' && interval.ends === 'go' && interval.movement !== undefined && real && planned) {
      const m = of(interval.movement);
      m.shows += 1;
      m.showPlannedMs += planned.lengthMs;
      m.showRealMs += real.lengthMs;
    }
  }
  for (const p of r.pauses) if (p.reason === 'form' && p.interval?.movement !== undefined) of(p.interval.movement).formStops += 1;
  return moves;
}

type Length = { readonly lengthMs: number } | null;
const undone = (planned: Length, real: Length): number => Math.max(0, (planned?.lengthMs ?? 0) - (real?.lengthMs ?? 0));

function cutsOf(r: Report): Cut[] {
  const byKind = new Map<Cut['kind'], { ms: number; plannedMs: number }>();
  for (const { interval, planned, real } of r.rows) {
    const kind = r.session.plan.sections[interval.section]?.kind;
    if (!kind || interval.kind !== 'work' || !planned) continue;
    const known = byKind.get(kind) ?? { ms: 0, plannedMs: 0 };
    byKind.set(kind, { ms: known.ms + undone(planned, real), plannedMs: known.plannedMs + planned.lengthMs });
  }
  return [...byKind].map(([kind, cut]) => ({ kind, ...cut }));
}

/** Before the name of a series that plans say they are of; a room's id never begins so. */
export const OF_PLAN = '* ';

/** Monday is 1; 1 January 1970 was a Thursday. */
export const weekdayOf = (day: number): number => ((day + 3) % 7) + 1;
export const mondayOf = (day: number): number => day - weekdayOf(day) + 1;

function seriesOf(room: string, day: number, minute: number): string {
  const nearest = Math.round(minute / SERIES_MIN) * SERIES_MIN;
  return `${room} ${weekdayOf(day)} ${clock(Math.min(nearest, 24 * 60 - SERIES_MIN))}`;
}
const clock = (minute: number): string => `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;

export type LocalTime = (at: number) => { readonly day: number; readonly minute: number };
const DAY_MS = 86_400_000;

/** Days and minutes on the clock of a wall in a time zone. */
export function localTime(timeZone: string): LocalTime {
  const format = new Intl.DateTimeFormat('en-GB', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });
  return (at) => {
    const parts = Object.fromEntries(format.formatToParts(at).map((p) => [p.type, Number(p.value)]));
    const { year = 0, month = 1, day = 1, hour = 0, minute = 0 } = parts;
    return { day: Math.round(Date.UTC(year, month - 1, day) / DAY_MS), minute: hour * 60 + minute };
  };
}

const DATE = /^(\d{4})-(\d{2})-(\d{2})$/;
/** Day number of "2026-05-04"; null where there is no such day. */
export function dayOf(date: string): number | null {
  const [, y, m, d] = (DATE.exec(date) ?? []).map(Number);
  if (y === undefined || m === undefined || d === undefined) return null;
  const at = Date.UTC(y, m - 1, d);
  return new Date(at).toISOString().slice(0, 10) === date ? at / DAY_MS : null;
}
export const dateOf = (day: number): string => new Date(day * DAY_MS).toISOString().slice(0, 10);
