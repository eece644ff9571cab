/** Owns the hands of the session examples: a small class, a press, and what stands on the clock. */
import { type PlanInput, planSchema } from '../../shared/plan/plan.ts';
import { decide } from '../../shared/session/decide.ts';
import { view } from '../../shared/view/view.ts';
import { type Hands, hold } from '../random/class.ts';
import type { Kind } from '../random/plans.ts';

type SectionInput = PlanInput['sections'][number];
export const class_ = (...sections: SectionInput[]): Hands => hold(planSchema.parse({ format: 1, id: 'p', name: 'P', sections }));
export const main = (s: Partial<SectionInput> = {}): SectionInput => ({ id: 'm', kind: 'main', show: 'none', work: 40, rest: 20, items: [{ movement: 'squat' }, { movement: 'bridge' }], ...s });
export const sided = (s: Partial<SectionInput> = {}): SectionInput => main({ work: 30, setUp: 0, items: [{ movement: 'lunge' }, { movement: 'squat' }], rest: 10, ...s });
export const press = (h: Hands, kind: Kind, n = 10) => h.press({ ticks: 0, kind, n, stale: false });
export const now = (h: Hands) => { const v = view(h.session, h.at); return `${v.phase} ${v.interval?.id ?? ''} ${v.seconds ?? ''}`.trim(); };
export const why = (h: Hands, command: Parameters<typeof decide>[1]) => { const d = decide(h.session, command, h.at); return 'refused' in d ? d.refused.reason : 'taken'; };
export const occurrence = (h: Hands) => view(h.session, h.at).occurrence;
/** Past the count-in that starting owes, and so much further. */
export const into = (h: Hands, ms: number) => { h.wait(3_000 + ms); return h; };
