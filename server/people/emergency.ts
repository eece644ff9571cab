/**
 * Owns the studio's emergency facts and the notes for cover teachers on the disk: one small
 * file each in the data folder, read once, written whole or not at all.
 */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { noteText } from '../../shared/session/session.ts';
import { type Emergency, emergencySchema, noEmergency } from '../../shared/wire/emergency.ts';
import { writeWhole } from '../own-movements.ts';

/** By plan id: what is left for whoever covers it. No names. */
export const notesSchema = z.record(z.string().max(60), noteText);

export interface Kept<T> {
  readonly now: () => T;
  /** False where the disk did not take it. */
  readonly keep: (next: T) => Promise<boolean>;
}

export async function openKept<T>(folder: string, name: string, schema: z.ZodType<T>, none: T, warn: (sentence: string) => void, mode?: number): Promise<Kept<T>> {
  let value = none;
  try {
    value = schema.parse(JSON.parse(await readFile(join(folder, name), 'utf8')));
  } catch (error) {
    const absent = (error as NodeJS.ErrnoException).code === 'ENOENT';
    if (!absent) warn(`${name} cannot be read and is left as it is; what it says is missing until it is written anew at the desk.`);
  }
  return {
    now: () => value,
    keep: async (next) => {
      try {
        await writeWhole(folder, name, `${JSON.stringify(next, null, 2)}\n`, mode);
      } catch {
        return false;
      }
      value = next;
      return true;
    },
  };
}

export const openEmergency = (folder: string, warn: (sentence: string) => void): Promise<Kept<Emergency>> =>
  openKept(folder, 'emergency.json', emergencySchema, noEmergency, warn);
export const openNotes = (folder: string, warn: (sentence: string) => void): Promise<Kept<Record<string, string>>> =>
  openKept(folder, 'cover-notes.json', notesSchema, {}, warn);
