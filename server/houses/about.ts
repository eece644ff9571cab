/** Owns what a studio says of itself to whoever looks over several: its time zone and what its rooms are called. A log knows rooms by their ids alone. */
import { z } from 'zod';
import type { Settings } from '../settings.ts';
import type { ChainStore } from '../store/chain-store.ts';
import type { Ask } from './over.ts';

const aboutSchema = z.object({ timeZone: z.string(), rooms: z.array(z.object({ id: z.string(), name: z.string(), pattern: z.int() })) });
export type About = z.infer<typeof aboutSchema>;
const heardSchema = z.object({ at: z.number() });

/** Written at each start of a server whose log others may look over. */
export const tellAbout = async (chain: ChainStore, { studio, rooms }: Pick<Settings, 'studio' | 'rooms'>): Promise<void> => {
  await chain.put('about', JSON.stringify({ timeZone: studio.timeZone, rooms: rooms.map(({ id, name, pattern }) => ({ id, name, pattern })) } satisfies About));
};

/** Of each house what it says of itself, and when its own server was last heard, where it has one that reports; null where it said nothing. */
export interface Told { readonly about: About | null; readonly heardAt: number | null }

export async function toldBy(ask: Ask, houses: readonly string[]): Promise<ReadonlyMap<string, Told>> {
  const rows = await ask<{ studio: string; entry: string; value: string }>(`SELECT studio, entry, value FROM board WHERE studio = ANY($1) AND entry IN ('about', 'house/heard')`, houses);
  const of = <T>(house: string, entry: string, schema: z.ZodType<T>): T | null => {
    const text = rows.find((r) => r.studio === house && r.entry === entry)?.value;
    try {
      return text === undefined ? null : (schema.safeParse(JSON.parse(text)).data ?? null);
    } catch {
      return null;
    }
  };
  return new Map(houses.map((house) => [house, { about: of(house, 'about', aboutSchema), heardAt: of(house, 'house/heard', heardSchema)?.at ?? null }]));
}
