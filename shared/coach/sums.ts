/**
 * Owns what a plan adds up to for whoever writes it: time, sides, areas, patterns,
 * energy and intensity. Milliseconds; kcal as a range over body masses, METs as
 * in shared/effort/energy.ts. Leaves alone whether it is wise (rules/).
 */
import { type Effortful, kcalPerKg, kcalRange, MASS_KG, STANDING_MET } from '../effort/energy.ts';
import type { Library } from '../movement/movement.ts';
import type { Plan } from '../plan/plan.ts';
import { totals } from '../plan/totals.ts';
import { study, type Work } from './study.ts';
import { long, longS, total } from './words.ts';

export interface Sums {
  readonly lengthMs: number;
  readonly workMs: number;
  readonly restMs: number;
  readonly showMs: number;
  readonly talkMs: number;
  /** Getting into place and changing sides. */
  readonly moveMs: number;
  /** Work of the main part for each part of it that is no work (rests, set-ups, changes of side; shows left out); null where there is none. */
  readonly workToRest: number | null;
  readonly leftMs: number;
  readonly rightMs: number;
  /** Work that loads an area; a movement counts in full for each of its areas, so these do not add up to the work. */
  readonly byArea: readonly { readonly area: string; readonly ms: number }[];
  readonly byPattern: readonly { readonly pattern: string; readonly ms: number }[];
  readonly met: { readonly mean: number; readonly workMean: number };
  readonly energy: { readonly leastKcal: number; readonly mostKcal: number; readonly leastKg: number; readonly mostKg: number };
  readonly sections: readonly { readonly id: string; readonly startMs: number; readonly lengthMs: number }[];
  readonly fits: { readonly slotS: number; readonly spareMs: number } | null;
  readonly words: { readonly length: string; readonly energy: string; readonly intensity: string; readonly source: string };
}

const SOURCE = `MET x 3.5 x kg / 200 for each minute, for bodies of ${MASS_KG.low} to ${MASS_KG.high} kg. METs: 2024 Adult Compendium of Physical Activities (Herrmann et al., J Sport Health Sci 2024; 13:6-12), for adults of 19 to 59; what is not work counts as standing, ${STANDING_MET} MET (2011 edition). An estimate for a room, not for a person.`;

function by<K extends string>(works: readonly Work[], keys: (w: Work) => readonly K[]): [K, number][] {
  const sums = new Map<K, number>();
  for (const w of works) for (const key of keys(w)) sums.set(key, (sums.get(key) ?? 0) + w.ms);
  return [...sums].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
}

const levelOf = (met: number): string => (met >= 6 ? 'vigorous' : met >= 3 ? 'moderate' : 'light');

export function sums(plan: Plan, library: Library): Sums {
  const s = study(plan, library);
  const t = totals(s.compiled.intervals);
  const kinds = (index: number) => plan.sections[index]?.kind;
  const main = s.compiled.intervals.filter((i) => kinds(i.section) === 'main');
  const mainWork = total(main.filter((i) => i.kind === 'work'), (i) => i.lengthMs);
  const mainRest = total(main.filter((i) => i.kind === 'rest' || i.kind === 'set-up' || i.kind === 'other-side'), (i) => i.lengthMs);
  const worked = total(s.works, (w) => w.ms);
  const parts: Effortful[] = [
    ...s.works.map((w) => ({ met: w.movement.intensity.met, minutes: w.ms / 60_000 })),
    { met: STANDING_MET, minutes: Math.max(0, t.lengthMs - worked) / 60_000 },
  ];
  const metMinutes = total(parts, (p) => p.met * p.minutes);
  const workMinutes = worked / 60_000;
  const mean = t.lengthMs === 0 ? STANDING_MET : metMinutes / (t.lengthMs / 60_000);
  const workMean = workMinutes === 0 ? STANDING_MET : total(s.works, (w) => w.movement.intensity.met * w.ms / 60_000) / workMinutes;
  const range = kcalRange(kcalPerKg(parts));
  const ten = (kcal: number): number => Math.round(kcal / 10) * 10;
  return {
    lengthMs: t.lengthMs, workMs: t.byKind.work, restMs: t.byKind.rest, showMs: t.byKind.show, talkMs: t.byKind.talk,
    moveMs: t.byKind['set-up'] + t.byKind['other-side'],
    workToRest: mainWork === 0 || mainRest === 0 ? null : mainWork / mainRest,
    leftMs: t.leftMs, rightMs: t.rightMs,
    byArea: by(s.works, (w) => w.movement.areas).map(([area, ms]) => ({ area, ms })),
    byPattern: by(s.works, (w) => [w.movement.pattern]).map(([pattern, ms]) => ({ pattern, ms })),
    met: { mean, workMean },
    energy: { leastKcal: range.low, mostKcal: range.high, leastKg: MASS_KG.low, mostKg: MASS_KG.high },
    sections: plan.sections.map(({ id }, index) => {
      const first = s.compiled.intervals.findIndex((i) => i.section === index);
      return { id, startMs: s.starts[first] ?? 0, lengthMs: total(s.compiled.intervals.filter((i) => i.section === index), (i) => i.lengthMs) };
    }),
    fits: s.slotS === null ? null : { slotS: s.slotS, spareMs: s.slotS * 1_000 - t.lengthMs },
    words: {
      length: s.slotS === null ? long(t.lengthMs)
        : t.lengthMs > s.slotS * 1_000 ? `${long(t.lengthMs)}: ${long(t.lengthMs - s.slotS * 1_000)} longer than the slot of ${longS(s.slotS)}`
          : `${long(t.lengthMs)} of ${longS(s.slotS)}`,
      energy: `about ${ten(range.low)} kcal at ${MASS_KG.low} kg to ${ten(range.high)} at ${MASS_KG.high} kg`,
      intensity: `${workMean.toFixed(1)} METs while working (${levelOf(workMean)}), ${mean.toFixed(1)} over the whole class`,
      source: SOURCE,
    },
  };
}
