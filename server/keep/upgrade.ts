/**
 * Owns what happens to a data folder when another version of Hallclock starts on it for the first
 * time: before anything is changed, everything is copied into backups/, so that the version before
 * can be put back with all that it knew. Leaves alone how the log changes its shape (store).
 */
import { existsSync } from 'node:fs';
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { writeWhole } from '../files/files.ts';
import { FILE } from '../store/database.ts';
import { BACKUPS, copyData } from './copy.ts';

/** Says which version ran last. */
const RAN = 'version.txt';

/**
 * @param version "0.2.0", or with a build behind a plus, which does not count
 * @returns the folder of the copy, or null where none was needed. What cannot be copied is said, and hinders no class.
 */
export async function beforeUpgrade(data: string, version: string, warn: (sentence: string) => void): Promise<string | null> {
  const [mine = version] = version.split('+');
  const before = (await readFile(join(data, RAN), 'utf8').catch(() => '')).trim();
  if (before === mine) return null;
  const into = join(data, BACKUPS, `before-${mine}`);
  const copies = existsSync(join(data, FILE)) && !existsSync(into);
  try {
    if (copies) {
      await copyData(data, into, async (file) => {
        const log = new Database(join(data, FILE), { readonly: true, timeout: 2_000 });
        try {
          await log.backup(file);
        } finally {
          log.close();
        }
      });
    }
    await writeWhole(data, RAN, `${mine}\n`);
  } catch (error) {
    await rm(`${into}.half`, { recursive: true, force: true }).catch(() => undefined);
    warn(`Version ${mine} starts here for the first time, and no copy could be made of what was there: ${(error as Error).message}.`);
    return null;
  }
  return copies ? into : null;
}
