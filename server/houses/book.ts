/**
 * Owns the key of a house and what was last heard of it, in the house's own part of the database. Of a key only
 * its hash is kept. Leaves alone what the house sends.
 */
import { randomBytes, timingSafeEqual } from 'node:crypto';
import { z } from 'zod';
import { type AskHave, askHaveSchema } from '../../shared/wire/house.ts';
import { hashOf } from '../pairing.ts';
import type { ChainStore } from '../store/chain-store.ts';

const keySchema = z.strictObject({ hash: z.string(), at: z.number() });
const heardSchema = z.strictObject({
  at: z.number(), version: z.string(),
  /** How far the house's clock is from this server's. */
  offMs: z.number(),
  waiting: z.number(),
  /** The newest event of the house that is here. */
  upTo: z.number().nullable(),
  /** Why something of it was not taken last time. */
  refused: z.string().nullable(),
  /** When it last had all that is planned for it here. */
  plansAt: z.number().nullable().default(null),
  /** What was changed there and here otherwise. */
  conflicts: z.number().default(0),
});
export type Heard = z.infer<typeof heardSchema>;

export interface Book {
  /** Whether this is the house's key. Rejects where the database cannot be asked. */
  readonly isKey: (key: string, nowMs: number) => Promise<boolean>;
  /** Makes a key; the one before holds no longer. It is not kept and cannot be shown again; null where it could not be written down. */
  readonly newKey: (now: number) => Promise<string | null>;
  readonly keyAt: () => Promise<number | null>;
  readonly heard: () => Promise<Heard | null>;
  readonly hear: (heard: Heard) => Promise<void>;
  /** What the house says of its rooms, as all studios of a database say it (about.ts). */
  readonly about: (about: AskHave['about']) => Promise<void>;
  /** The same as it was last said; null where it was not. */
  readonly rooms: () => Promise<AskHave['about'] | null>;
}

const KEY = 'house/key';
const HEARD = 'house/heard';
const ABOUT = 'about';
/** Guesses ask the database no oftener than this. */
const FRESH_MS = 1_000;

const same = (a: string, b: string): boolean => a.length === b.length && timingSafeEqual(Buffer.from(a), Buffer.from(b));

export function openBook(house: string, board: Pick<ChainStore, 'entries' | 'put'>): Book {
  /** As it was last written down. */
  let said: string | null = null;
  let read: { readonly atMs: number; readonly hash: Promise<string | null> } | null = null;
  async function entry<T>(name: string, schema: z.ZodType<T>): Promise<T | null> {
    const text = (await board.entries(name)).get(name);
    if (text === undefined) return null;
    try {
      return schema.safeParse(JSON.parse(text)).data ?? null;
    } catch {
      return null;
    }
  }
  const ofKey = () => entry(KEY, keySchema);
  return {
    isKey: async (key, nowMs) => {
      if (read === null || nowMs - read.atMs >= FRESH_MS) read = { atMs: nowMs, hash: ofKey().then((k) => k?.hash ?? null) };
      const hash = await read.hash.catch((error: unknown) => { read = null; throw error; });
      return hash !== null && same(hash, hashOf(key));
    },
    newKey: async (now) => {
      const key = `${house}.${randomBytes(16).toString('base64url')}`;
      const kept = await board.put(KEY, JSON.stringify({ hash: hashOf(key), at: now })).catch(() => false);
      read = null;
      return kept ? key : null;
    },
    keyAt: async () => (await ofKey())?.at ?? null,
    heard: () => entry(HEARD, heardSchema),
    rooms: () => entry(ABOUT, askHaveSchema.shape.about),
    about: async (about) => {
      const text = JSON.stringify(about);
      if (text !== said) await board.put(ABOUT, text);
      said = text;
    },
    hear: async (heard) => { await board.put(HEARD, JSON.stringify(heard)); },
  };
}
