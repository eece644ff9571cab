/**
 * Owns reading plans and movements from their folders, ours and the studio's,
 * through the one schema each. A file that cannot be used is named, with the place
 * in it and what is wrong; the others are used all the same. A file is read again
 * when it has changed.
 */
import type { z } from 'zod';
import { FILE_MOST_BYTES } from '../shared/limits.ts';
import { type Movement, movementSchema } from '../shared/movement/movement.ts';
import { type Facts, type FactsOf, factsOf } from '../shared/plan/facts.ts';
import { type Plan, planSchema } from '../shared/plan/plan.ts';
import { summaryOf } from '../shared/plan/summary.ts';
import type { MovementsBody, PlansBody } from '../shared/wire/http.ts';
import { diskFiles, type Files, type Listed } from './files/files.ts';

type Broken = PlansBody['broken'][number];
type ReadFile<T> = { readonly value: T } | { readonly broken: Broken };

export interface Library {
  readonly plans: () => Promise<PlansBody>;
  readonly movements: () => Promise<MovementsBody>;
  /** A plan with the facts of its movements; null where there is none of that name. */
  readonly plan: (id: string) => Promise<{ plan: Plan; facts: FactsOf } | { broken: string } | null>;
  /** The plan of that name that came with Hallclock, whatever the studio made of it. */
  readonly came: (id: string) => Promise<Plan | null>;
  /** What a class needs to know of a movement; null where there is none of that name. */
  readonly movement: (id: string) => Promise<Facts | null>;
}

/** "sections[1].items[0].work", as somebody would look for it in the file. */
const pathOf = (path: readonly PropertyKey[]): string =>
  path.map((part, i) => (typeof part === 'number' ? `[${part}]` : `${i > 0 ? '.' : ''}${String(part)}`)).join('');

function parseFile<T extends { id: string }>(name: string, text: string, schema: z.ZodType<T>): ReadFile<T> {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    const at = /position (\d+)/.exec(String(error))?.[1];
    const line = at === undefined ? text.split('\n').length : text.slice(0, Number(at)).split('\n').length;
    return { broken: { file: name, path: `line ${line}`, error: `${name} is no JSON; it goes wrong at line ${line}: ${(error as Error).message}.` } };
  }
  const parsed = schema.safeParse(json);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    const path = pathOf(issue?.path ?? []);
    const more = parsed.error.issues.length - 1;
    const also = more > 0 ? ` (and ${more} more)` : '';
    return { broken: { file: name, path, error: `${name}, at ${path || 'the top'}: ${issue?.message ?? 'not understood'}${also}.` } };
  }
  if (`${parsed.data.id}.json` !== name) {
    return { broken: { file: name, path: 'id', error: `${name}, at id: it is "${parsed.data.id}", and the file should be called ${parsed.data.id}.json.` } };
  }
  return { value: parsed.data };
}

/** Reads a folder of ours and the studio's of the same name; the studio's file replaces one of ours that is called so. */
function folders<T extends { id: string }>(places: readonly Files[], folder: string, schema: z.ZodType<T>) {
  const known = new Map<Files, Map<string, { stamp: string; read: ReadFile<T> }>>(places.map((place) => [place, new Map()]));

  async function readOne(place: Files, { name, stamp, bytes }: Listed): Promise<ReadFile<T>> {
    const before = known.get(place)?.get(name);
    if (before?.stamp === stamp) return before.read;
    try {
      const text = bytes > FILE_MOST_BYTES ? null : await place.read(folder, name);
      const read: ReadFile<T> = bytes > FILE_MOST_BYTES
        ? { broken: { file: name, error: `${name} has ${bytes} bytes; ${FILE_MOST_BYTES} is the most.` } }
        : text === null ? { broken: { file: name, error: `${name} cannot be read: it is gone.` } } : parseFile(name, text.toString('utf8'), schema);
      known.get(place)?.set(name, { stamp, read });
      return read;
    } catch (error) {
      return { broken: { file: name, error: `${name} cannot be read: ${(error as Error).message}.` } };
    }
  }

  return async (): Promise<{ found: ReadonlyMap<string, T>; broken: readonly Broken[] }> => {
    const files = new Map<string, readonly [Files, Listed]>();
    for (const [place, listed] of await Promise.all(places.map(async (p) => [p, await p.list(folder)] as const))) {
      for (const file of listed) if (file.name.endsWith('.json') && !file.name.startsWith('.')) files.set(file.name, [place, file]);
    }
    const reads = await Promise.all([...files].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, file]) => readOne(...file)));
    return {
      found: new Map(reads.flatMap((read) => ('value' in read ? [[read.value.id, read.value] as const] : []))),
      broken: reads.flatMap((read) => ('broken' in read ? [read.broken] : [])),
    };
  };
}

const factsFrom = (plan: Plan, movements: ReadonlyMap<string, Movement>): FactsOf =>
  Object.fromEntries(plan.sections.flatMap((s) => s.items).flatMap(({ movement }) => {
    const found = movements.get(movement);
    return found ? [[movement, factsOf(found)] as const] : [];
  }));

/** @param media our own folder @param own the studio's files */
export function openLibrary(media: string, own: Files): Library {
  const ours = diskFiles(media);
  const readPlans = folders<Plan>([ours, own], 'plans', planSchema);
  const readOurs = folders<Plan>([ours], 'plans', planSchema);
  const readMovements = folders<Movement>([ours, own], 'movements', movementSchema);
  return {
    came: async (id) => (await readOurs()).found.get(id) ?? null,
    plans: async () => {
      const [plans, movements] = await Promise.all([readPlans(), readMovements()]);
      return {
        plans: [...plans.found.values()].map((plan) => summaryOf(plan, factsFrom(plan, movements.found))),
        broken: [...plans.broken],
      };
    },
    movements: async () => {
      const { found, broken } = await readMovements();
      return { movements: [...found.values()], broken: [...broken] };
    },
    movement: async (id) => {
      const found = (await readMovements()).found.get(id);
      return found ? factsOf(found) : null;
    },
    plan: async (id) => {
      const [plans, movements] = await Promise.all([readPlans(), readMovements()]);
      const plan = plans.found.get(id);
      if (plan) return { plan, facts: factsFrom(plan, movements.found) };
      const broken = plans.broken.find((b) => b.file === `${id}.json`);
      return broken ? { broken: broken.error } : null;
    },
  };
}
