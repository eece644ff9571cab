/**
 * Owns what a chain gives to its houses: the plans and movements that it made itself (those that came with Hallclock are
 * at every house), and the timetable that was made here for one. Leaves alone what a house does with them (upward/down.ts).
 */
import { HOUSE_MESSAGE_BYTES } from '../../shared/limits.ts';
import type { Movement } from '../../shared/movement/movement.ts';
import type { Plan } from '../../shared/plan/plan.ts';
import type { AskPlans, PlansGiven } from '../../shared/wire/house.ts';
import { revisionOf } from '../plans/keep.ts';
import { readTimetable } from '../plans/timetable.ts';
import type { Studio } from '../studio.ts';
import type { House } from './houses.ts';

export interface Given {
  readonly plans: readonly Plan[];
  /** Without pictures: these stay where they were made. */
  readonly movements: readonly Movement[];
}
type Asked = Pick<AskPlans, 'seen' | 'plans' | 'movements'>;

/** Rejects where the files cannot be asked. */
export async function givenBy({ files, library }: Pick<Studio, 'files' | 'library'>): Promise<Given> {
  const idsOf = async (folder: string) => (await files.list(folder)).flatMap(({ name }) => (name.endsWith('.json') ? [name.slice(0, -5)] : []));
  const [plans, own, { movements }] = await Promise.all([idsOf('plans'), idsOf('movements'), library.movements()]);
  const found = await Promise.all(plans.map((id) => library.plan(id)));
  return {
    plans: found.flatMap((f) => (f && 'plan' in f ? [f.plan] : [])),
    movements: movements.filter((m) => own.includes(m.id)).map(({ picture: _, ...m }) => m),
  };
}

/** What a house is answered: all by name and version, and in full what it has not, as much as goes into a message. */
export async function newsFor({ files }: Pick<House, 'files'>, given: Given, asked: Asked): Promise<Pick<PlansGiven, 'revision' | 'news'>> {
  // A timetable that cannot be read is none that was made: the house keeps what it has.
  const timetable = (await readTimetable(files, files.shared)).timetable?.entries ?? null;
  const named = <T extends { readonly id: string }>(list: readonly T[]) => list.map((value) => ({ id: value.id, revision: revisionOf(value), value }));
  const [plans, movements] = [named(given.plans), named(given.movements)];
  const revision = revisionOf([plans.map((p) => p.revision), movements.map((m) => m.revision), timetable]);
  if (revision === asked.seen) return { revision, news: null };
  let bytes = 0;
  let whole = true;
  const inFull = <T>(have: AskPlans['plans'], { id, revision, value }: { id: string; revision: string; value: T }): T | null => {
    if (have.some((h) => h.id === id && h.revision === revision)) return null;
    const size = Buffer.byteLength(JSON.stringify(value));
    if (bytes > 0 && bytes + size > HOUSE_MESSAGE_BYTES) {
      whole = false;
      return null;
    }
    bytes += size;
    return value;
  };
  return {
    revision,
    news: {
      movements: movements.map((m) => ({ id: m.id, revision: m.revision, movement: inFull(asked.movements, m) })),
      plans: plans.map((p) => ({ id: p.id, revision: p.revision, plan: inFull(asked.plans, p) })),
      timetable, whole,
    },
  };
}
