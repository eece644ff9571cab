/** Owns what a next session needs to know of how the last one really went, from its report. Plain data, no people. */
import type { Report } from '../view/report.ts';

export interface LivedMovement {
  /** Id of the section in the plan, and the movement's place in it. */
  readonly section: string;
  readonly item: number;
  readonly movement: string;
  /** Milliseconds of work planned and done. */
  readonly plannedMs: number;
  readonly doneMs: number;
  /** Pauses with the reason "form" while it ran. */
  readonly formPauses: number;
  /** Rounds of it that were taken out, skipped or never reached. */
  readonly skipped: number;
}
export interface Lived {
  readonly lateMs: number;
  readonly movements: readonly LivedMovement[];
}

export function lived(report: Report): Lived {
  const rows = new Map<string, { -readonly [K in keyof LivedMovement]: LivedMovement[K] }>();
  const { plan } = report.session;
  const rowOf = (section: number, item: number, movement: string | undefined) => {
    const id = plan.sections[section]?.id;
    const planned = plan.sections[section]?.items[item]?.movement ?? movement;
    if (id === undefined || planned === undefined || item < 0) return null;
    const key = `${section}.${item}`;
    const row = rows.get(key) ?? { section: id, item, movement: planned, plannedMs: 0, doneMs: 0, formPauses: 0, skipped: 0 };
    rows.set(key, row);
    return row;
  };
  for (const { interval, planned, real, marks } of report.rows) {
    if (interval.kind !== 'work') continue;
    const row = rowOf(interval.section, interval.item, interval.movement);
    if (!row) continue;
    row.plannedMs += planned?.lengthMs ?? 0;
    row.doneMs += real?.lengthMs ?? 0;
    if (planned && marks.some((m) => m.what === 'skipped' || m.what === 'not-reached' || m.what === 'out')) row.skipped += 1;
  }
  for (const pause of report.pauses) {
    if (pause.reason !== 'form' || !pause.interval) continue;
    const row = rowOf(pause.interval.section, pause.interval.item, pause.interval.movement);
    if (row) row.formPauses += 1;
  }
  return { lateMs: report.lateMs, movements: [...rows.values()] };
}
