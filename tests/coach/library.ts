/** Owns the shipped library, the shipped plans and short ways to write a plan, for the tests of the coach. */
import { readdirSync, readFileSync } from 'node:fs';
import { type Library, movementSchema } from '../../shared/movement/movement.ts';
import { type Plan, type PlanInput, planSchema } from '../../shared/plan/plan.ts';

const media = new URL('../../media/', import.meta.url);
const read = (folder: string): unknown[] => readdirSync(new URL(folder, media))
  .filter((f) => f.endsWith('.json'))
  .map((f) => JSON.parse(readFileSync(new URL(folder + f, media), 'utf8')));

export const library: Library = new Map(read('movements/').map((m) => movementSchema.parse(m)).map((m) => [m.id, m]));
export const shipped: Plan[] = read('plans/').map((p) => planSchema.parse(p));

type Section = PlanInput['sections'][number];
export const moves = (...ids: string[]) => ids.map((movement) => ({ movement }));
export const plan = (sections: Section[], more: Partial<PlanInput> = {}): Plan => planSchema.parse({ format: 1, id: 'p', name: 'P', sections, ...more });
export const main = (s: Partial<Section>): Section => ({ id: 'main', kind: 'main', work: 40, rest: 20, ...s }) as Section;
export const welcome: Section = { id: 'welcome', kind: 'welcome', talk: 60 };
export const warmUp: Section = { id: 'warm-up', kind: 'warm-up', way: 'follow-me', work: 300, items: moves('march-in-place', 'side-step', 'arm-circles', 'hip-hinge', 'squat', 'step-jack') };
export const coolDown: Section = { id: 'cool-down', kind: 'cool-down', work: 30, rest: 15, sides: 'full', items: [
  { movement: 'march-in-place', sides: 'alternating', work: 60 }, { movement: 'calf-stretch' }, { movement: 'quad-stretch' }, { movement: 'hamstring-stretch' }] };
/** A class with nothing to say against its ends. */
export const around = (sections: Section[], more: Partial<PlanInput> = {}): Plan => plan([welcome, warmUp, ...sections, coolDown], more);
