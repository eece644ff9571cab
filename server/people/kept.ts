/**
 * Owns a small text that the studio keeps: read once, known from then on, written whole or not at all. Where other
 * servers write it too, it is read again when they did, and each change is made to what is there then.
 */
import type { z } from 'zod';
import type { Files, StudioFiles } from '../files/files.ts';

export interface Kept<T> {
  readonly now: () => T;
  /** False where it could not be written down. */
  readonly keep: (next: T) => Promise<boolean>;
  /** The same, made of what is there. */
  readonly change: (next: (now: T) => T) => Promise<boolean>;
  /** Reads again what other servers may have written; as it was where that cannot be. */
  readonly renew: () => Promise<void>;
}

/** @param changed called when another server wrote it @param mode who may read it on a disk */
export async function openKept<T>(files: StudioFiles, name: string, schema: z.ZodType<T>, none: T, warn: (sentence: string) => void, { mode, changed = () => {} }: { readonly mode?: number; readonly changed?: () => void } = {}): Promise<Kept<T>> {
  const read = async (from: Files): Promise<T> => {
    const bytes = await from.read('', name);
    return bytes === null ? none : schema.parse(JSON.parse(bytes.toString('utf8')));
  };
  let value: T = await read(files).catch(() => {
    warn(`${name} cannot be read and is left as it is; what it says is missing until it is written anew.`);
    return none;
  });
  const renew = async (): Promise<void> => {
    if (files.shared) value = await read(files).catch(() => value);
  };
  files.heard((path) => {
    if (path === name || path === null) void renew().then(changed);
  });
  const change = (next: (now: T) => T): Promise<boolean> => files.alone(async (alone) => {
    if (files.shared) value = await read(alone).catch(() => value);
    const made = next(value);
    await alone.write('', name, `${JSON.stringify(made, null, 2)}\n`, mode);
    return made;
  }).then((made) => {
    value = made;
    return true;
  }, () => false);
  return { now: () => value, change, keep: (next) => change(() => next), renew };
}
