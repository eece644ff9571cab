/** Owns what the columns of an export are: one class by its intervals, many by a row each. Leaves alone how they are written (csv.ts). */
import { kcalRange } from '../../shared/effort/energy.ts';
import { sessionLoad } from '../../shared/effort/load.ts';
import type { Event } from '../../shared/session/command.ts';
import { serverAt } from '../../shared/time/units.ts';
import { type Report, type Row, report } from '../../shared/view/report.ts';
import { changeWords, intervalWords, isChange, markWords, sidesName } from '../../shared/view/report-words.ts';
import { lengthWords, pauseWords, sectionName } from '../../shared/view/words.ts';
import type { ClassRecord } from '../../shared/wire/review.ts';
import { type Cell, rfc3339 } from './csv.ts';

const seconds = (ms: number): number => ms / 1_000;
const whole = (n: number): number => Math.round(n * 100) / 100;

type Column<T> = readonly [string, (row: T) => Cell];
const table = <T>(columns: readonly Column<T>[], rows: readonly T[]): Cell[][] => rows.map((row) => columns.map(([, cell]) => cell(row)));
const head = <T>(columns: readonly Column<T>[]): string[] => columns.map(([name]) => name);

const recordColumns = (timeZone: string): readonly Column<ClassRecord>[] => [
  ['class', (r) => r.id], ['room', (r) => r.room], ['plan', (r) => r.plan], ['name', (r) => r.name], ['series', (r) => r.series],
  ['started', (r) => rfc3339(r.startedAt, timeZone)], ['ended', (r) => rfc3339(r.endedAt, timeZone)], ['how it ended', (r) => r.how],
  ['head count', (r) => r.headCount],
  ['planned s', (r) => seconds(r.plannedMs)], ['length s', (r) => seconds(r.totalMs)], ['work s', (r) => seconds(r.workMs)], ['paused s', (r) => seconds(r.pausedMs)],
  ['pauses', (r) => r.pauses], ['stops for form', (r) => r.formStops], ['shows planned s', (r) => seconds(r.showPlannedMs)], ['shows s', (r) => seconds(r.showRealMs)],
  ['end against promise s', (r) => seconds(r.lateMs)],
  ['late from the start s', (r) => (r.lateStartMs === null ? null : seconds(r.lateStartMs))], ['later on the way s', (r) => (r.grewMs === null ? null : seconds(r.grewMs))],
  ['work left out s', (r) => seconds(r.cutMs)], ['moderate min', (r) => whole(r.moderateMs / 60_000)], ['vigorous min', (r) => whole(r.vigorousMs / 60_000)],
  ['energy least kcal', (r) => whole(kcalRange(r.kcalPerKg).low)], ['energy most kcal', (r) => whole(kcalRange(r.kcalPerKg).high)],
  ['effort answers', (r) => r.effort?.answers ?? null], ['effort mean', (r) => (r.effort ? whole(r.effort.mean) : null)],
  ['session load', (r) => (r.effort ? whole(sessionLoad(r.effort.mean, r.totalMs / 60_000)) : null)],
];
export const recordHead = (): string[] => head(recordColumns('UTC'));
export const recordRows = (records: readonly ClassRecord[], timeZone: string): Cell[][] => table(recordColumns(timeZone), records);
/** The same of several houses: whose each class is stands first. */
export const houseHead = (): string[] => ['house', ...recordHead()];
export const houseRow = (house: string, record: ClassRecord, timeZone: string): Cell[] => [house, ...(recordRows([record], timeZone)[0] ?? [])];

const rowColumns = (r: Report): readonly Column<Row>[] => [
  ['section', ({ interval }) => sectionName(r.session.plan.sections[interval.section])],
  ['kind', ({ interval }) => interval.kind], ['what', ({ interval }) => intervalWords(r.session, interval)],
  ['movement', ({ interval }) => interval.movement ?? null], ['side', ({ interval }) => interval.side ?? null], ['round', ({ interval }) => interval.round || null],
  ['planned start s', ({ planned }) => (planned ? seconds(planned.startMs) : null)], ['planned length s', ({ planned }) => (planned ? seconds(planned.lengthMs) : null)],
  ['real start s', ({ real }) => (real ? seconds(real.startMs) : null)], ['real length s', ({ real }) => (real ? seconds(real.lengthMs) : null)],
  ['count-in s', (row) => seconds(row.countInMs)], ['paused s', (row) => seconds(row.pausedMs)], ['what happened', ({ marks }) => marks.map(markWords).join(', ')],
];

/** Null where there is no log. */
export function classTable(events: readonly Event[], now: number): Cell[][] | null {
  const r = report(events, serverAt(now));
  if (!r) return null;
  const columns = rowColumns(r);
  return [head(columns), ...table(columns, r.rows)];
}

/** One class as data: the same figures as on its page, dates as RFC 3339. */
export function classData(events: readonly Event[], record: ClassRecord | null, timeZone: string, now: number): object | null {
  const r = report(events, serverAt(now));
  if (!r) return null;
  const { session } = r;
  const at = (ms: number) => rfc3339(ms, timeZone);
  const [names = [], ...rows] = classTable(events, now) ?? [];
  return {
    class: session.id, room: session.room, plan: session.plan.id, name: session.plan.name, headCount: session.headCount,
    started: at(session.startedAt), ended: session.over ? at(r.endAt) : null, how: session.over?.how ?? 'running',
    promised: at(session.promisedAt), lateS: seconds(r.lateMs), plannedS: seconds(r.plannedMs), lengthS: seconds(r.totalMs),
    timeS: Object.fromEntries(Object.entries(r.accounts).map(([key, ms]) => [key, seconds(ms)])),
    pauses: r.pauses.map((p) => ({ at: at(p.at), lengthS: seconds(p.lengthMs), reason: p.reason ? pauseWords[p.reason] : null, in: intervalWords(session, p.interval) })),
    changes: r.changes.filter((c) => isChange(c.event)).map((c) => ({ at: at(c.at), what: changeWords(r, c) })),
    sides: r.sides.map((s) => ({ movement: sidesName(session, s), round: s.round, leftS: seconds(s.leftMs), rightS: seconds(s.rightMs), owed: s.owed })),
    notes: session.notes.map((n) => ({ at: at(n.at), text: n.text })),
    effort: record?.effort ?? null, energyKcal: record ? kcalRange(record.kcalPerKg) : null,
    intervals: rows.map((row) => Object.fromEntries(names.map((name, k) => [String(name), row[k] ?? null]))),
    inWords: { length: lengthWords(r.totalMs) },
  };
}
