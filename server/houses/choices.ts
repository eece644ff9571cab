/** Owns what there is to choose from over the houses, its first and last day, and what houses, rooms and series are called. */
import type { AllReview } from '../../shared/wire/all.ts';
import { named } from '../review/names.ts';
import { OF_PLAN } from '../review/record.ts';
import type { Told } from './about.ts';
import type { Ask } from './over.ts';
import type { Summed } from './sums.ts';

type Choice = AllReview['choices']['rooms'][number];
type Choices = Omit<AllReview['choices'], 'houses'>;
const byName = (a: Choice, b: Choice): number => (a.name < b.name ? -1 : 1);

/** As one studio has them (review/many.ts): a time of the week is one from its second class on; of two names the newer counts. */
export async function choicesOver(ask: Ask, houses: readonly string[]): Promise<{ readonly first: number | null; readonly last: number | null; readonly choices: Choices }> {
  const of = 'FROM records WHERE studio = ANY($1::text[]) AND stopped = 0';
  const [span] = await ask<{ first: number | null; last: number | null }>(`SELECT min(day) AS first, max(day) AS last ${of}`, houses);
  const keyed = async (sql: string): Promise<Choice[]> => (await ask<Choice>(sql, houses)).sort(byName);
  return {
    first: span?.first ?? null, last: span?.last ?? null,
    choices: {
      rooms: await keyed(`SELECT DISTINCT roomOver AS key, roomOver AS name ${of}`),
      plans: await keyed(`SELECT DISTINCT ON (plan) plan AS key, name ${of} ORDER BY plan, number DESC`),
      series: await keyed(`SELECT seriesOver AS key, seriesOver AS name ${of} GROUP BY seriesOver HAVING count(*) > 1`),
      movements: await keyed(`SELECT DISTINCT ON (m.movement) m.movement AS key, m.name FROM record_moves m JOIN records r ON r.studio = m.studio AND r.number = m.number
        WHERE m.studio = ANY($1::text[]) AND r.stopped = 0 ORDER BY m.movement, m.number DESC`),
    },
  };
}

interface Named { readonly id: string; readonly name: string }

/** @param alone whether one house is chosen: its rooms are then called without it */
export function namedOver<T extends Pick<Summed, 'rooms' | 'series' | 'houses'> & { readonly choices: Choices }>(review: T, houses: readonly Named[], told: ReadonlyMap<string, Told>, alone: boolean): T {
  const houseName = (id: string) => houses.find((h) => h.id === id)?.name ?? id;
  const keys = new Set([...review.rooms, ...review.choices.rooms].map((r) => r.key));
  for (const { key } of [...review.series, ...review.choices.series]) if (!key.startsWith(OF_PLAN)) keys.add(key.split(' ', 1)[0] ?? '');
  const rooms = [...keys].map((key) => {
    const [house = '', room = ''] = key.split('/');
    const name = told.get(house)?.about?.rooms.find((r) => r.id === room)?.name ?? room;
    return { id: key, name: alone ? name : `${name}, ${houseName(house)}` };
  });
  const inOrder = [...review.houses].sort((a, b) => houses.findIndex((h) => h.id === a.key) - houses.findIndex((h) => h.id === b.key));
  return { ...named(review, rooms), houses: inOrder.map((h) => ({ ...h, name: houseName(h.key) })) };
}
