/**
 * Owns what a studio keeps beside its log: named files in a few folders, on this computer's disk. Where servers share
 * a log they are rows of its database instead (postgres-files.ts), with the same promise. Leaves alone what is in them.
 */
import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

export interface Listed {
  readonly name: string;
  /** Another one when the file was written again. */
  readonly stamp: string;
  readonly bytes: number;
}

export interface Files {
  /** What is in a folder, by name; nothing where there is none. @param folder "plans", or "" for the files beside the folders */
  readonly list: (folder: string) => Promise<readonly Listed[]>;
  /** Null where there is none. Rejects where it cannot be read. */
  readonly read: (folder: string, name: string) => Promise<Buffer | null>;
  /** All of a file or none of it. Rejects where it cannot be written. @param mode who may read it on a disk: everybody of this machine where it is left out */
  readonly write: (folder: string, name: string, bytes: string | Buffer, mode?: number) => Promise<void>;
  readonly remove: (folder: string, name: string) => Promise<void>;
}

/** The path of a file in messages between servers: "plans/short.json", or "sound.json". */
export const pathOf = (folder: string, name: string): string => (folder === '' ? name : `${folder}/${name}`);

export interface StudioFiles extends Files {
  /** Whether other servers write to them too. */
  readonly shared: boolean;
  /** One after the other, over all servers: what `work` reads through the files that it is given is the newest there is. Rejects as it does. */
  readonly alone: <T>(work: (files: Files) => Promise<T>) => Promise<T>;
  /** A place on this computer's disk where the file can be read from; null where there is no such file. */
  readonly place: (folder: string, name: string) => Promise<string | null>;
  /** Calls with the path of a file that another server wrote, and with null where that may have been missed. */
  readonly heard: (listen: (path: string | null) => void) => void;
}

/** Why nothing was written, and what to do. */
export const notKept = ({ shared }: Pick<StudioFiles, 'shared'>): string => shared
  ? 'The studio\'s database does not answer, so this was not written down. Send it again in a moment.'
  : 'The studio could not write this down. Tell the studio that its disk is full or may not be written, then send it again.';
/** The status that goes with it (RFC 9110, 15.6.4; RFC 4918, 11.5). */
export const notKeptStatus = ({ shared }: Pick<StudioFiles, 'shared'>): 503 | 507 => (shared ? 503 : 507);

/** What is done one after the other. */
export function inTurn(): <T>(work: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const mine = last.then(work);
    last = mine.catch(() => {});
    return mine;
  };
}

const absent = (error: unknown): boolean => (error as NodeJS.ErrnoException).code === 'ENOENT';

/** All of a file or none of it. @param mode who may read it: everybody on this machine where it is left out */
export async function writeWhole(folder: string, name: string, bytes: string | Buffer, mode = 0o666): Promise<void> {
  await mkdir(folder, { recursive: true });
  const half = join(folder, `.${name}.half`);
  // One that was left half done may be readable by all.
  if (mode !== 0o666) await rm(half, { force: true });
  await writeFile(half, bytes, { mode });
  await rename(half, join(folder, name));
}

/** @param root the studio's data folder */
export function diskFiles(root: string): StudioFiles {
  const turn = inTurn();
  const files: Files = {
    list: async (folder) => {
      const found = await readdir(join(root, folder), { withFileTypes: true }).catch(() => []);
      // What cannot be looked at is listed all the same, and said when it is read.
      return Promise.all(found.filter((f) => !f.isDirectory()).map(async ({ name }) => {
        const { mtimeMs, size } = await stat(join(root, folder, name)).catch(() => ({ mtimeMs: Number.NaN, size: 0 }));
        return { name, stamp: `${mtimeMs} ${size}`, bytes: size };
      }));
    },
    read: (folder, name) => readFile(join(root, folder, name)).catch((error: unknown) => {
      if (absent(error)) return null;
      throw error;
    }),
    write: (folder, name, bytes, mode) => writeWhole(join(root, folder), name, bytes, mode),
    remove: (folder, name) => rm(join(root, folder, name), { force: true }),
  };
  return {
    ...files, shared: false,
    alone: (work) => turn(() => work(files)),
    place: async (folder, name) => ((await stat(join(root, folder, name)).catch(() => null))?.isFile() ? join(root, folder, name) : null),
    heard: () => {},
  };
}
