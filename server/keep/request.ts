/**
 * Owns how `npm run backup` asks a server that runs: by a file in its data folder, which only
 * those can write who may read the log anyway. No network, no password.
 */
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { LogStore } from '../store/log-store.ts';
import { BACKUPS, copyData } from './copy.ts';

const ASKED = '.asked';
const FAILED = '.failed';
const LOOK_MS = 1_000;
/** A server that does not see the request within this is not there, or sees another folder. */
const SEEN_MS = 20_000;

/** Looks once a second whether a backup is asked for. @returns the way to stop */
export function answerBackups(data: string, store: Pick<LogStore, 'backup'>, warn: (sentence: string) => void): () => void {
  const folder = join(data, BACKUPS);
  let working = false;
  const look = async () => {
    const names = await readdir(folder).catch((): string[] => []);
    for (const name of names.filter((n) => n.endsWith(ASKED))) {
      const stamp = name.slice(0, -ASKED.length);
      await rm(join(folder, name));
      await copyData(data, join(folder, stamp), store.backup).catch(async (error: unknown) => {
        warn(`the backup ${stamp} could not be made: ${String(error)}`);
        await writeFile(join(folder, `${stamp}${FAILED}`), String(error)).catch(() => {});
      });
    }
  };
  const timer = setInterval(() => {
    if (working) return;
    working = true;
    void look().catch((error: unknown) => warn(`backups could not be looked for: ${String(error)}`)).finally(() => { working = false; });
  }, LOOK_MS);
  timer.unref();
  return () => clearInterval(timer);
}

/** Asks the server of this data folder, and waits. Rejects with a sentence. @returns the folder of the backup */
export async function askForBackup(data: string, stamp: string, wait: (ms: number) => Promise<void>): Promise<string> {
  const folder = join(data, BACKUPS);
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, `${stamp}${ASKED}`), '');
  for (let waitedMs = 0; ; waitedMs += LOOK_MS / 4) {
    const names = await readdir(folder);
    if (names.includes(stamp)) return join(folder, stamp);
    if (names.includes(`${stamp}${FAILED}`)) {
      const why = await readFile(join(folder, `${stamp}${FAILED}`), 'utf8');
      await rm(join(folder, `${stamp}${FAILED}`));
      throw new Error(`The server could not make the backup: ${why}`);
    }
    if (waitedMs > SEEN_MS && names.includes(`${stamp}${ASKED}`)) {
      await rm(join(folder, `${stamp}${ASKED}`), { force: true });
      throw new Error('The log is in use, but no server of this folder answers. Check that HALLCLOCK_DATA is the folder of the server that runs.');
    }
    await wait(LOOK_MS / 4);
  }
}
