/**
 * Owns `npm run backup [-- FOLDER]`: one whole copy of everything the studio keeps, while the
 * server runs or while it does not. Without a folder it goes into backups/ of the data folder.
 */
import { cp, rm } from 'node:fs/promises';
import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { readings } from '../real-clock.ts';
import { CannotOpen, FILE, keeper, openDatabase } from '../store/database.ts';
import { BACKUPS, copyData, stampOf } from './copy.ts';
import { askForBackup } from './request.ts';

const wait = (ms: number) => new Promise<void>((done) => { setTimeout(done, ms); });

/** @returns the folder of the backup. Rejects with a sentence. */
export async function backup(data: string, to: string | null): Promise<string> {
  if (!existsSync(join(data, FILE))) throw new Error(`There is no log in ${resolve(data)}. Set HALLCLOCK_DATA to the folder that the server uses.`);
  if (to !== null && existsSync(to)) throw new Error(`${resolve(to)} is there already. Name a folder that is not.`);
  const stamp = stampOf(readings().wallMs);
  const own = join(data, BACKUPS, stamp);
  const made = await ownOrAsked(data, own, stamp);
  if (to === null) return made;
  // Copied, not moved: it may be another disk.
  await cp(made, to, { recursive: true });
  await rm(made, { recursive: true });
  return to;
}

async function ownOrAsked(data: string, own: string, stamp: string): Promise<string> {
  let opened: ReturnType<typeof openDatabase>;
  try {
    opened = openDatabase(data);
  } catch (error) {
    if (error instanceof CannotOpen && error.message.includes('is in use')) return askForBackup(data, stamp, wait);
    throw error;
  }
  try {
    await copyData(data, own, keeper(opened.db, () => {}).backup);
    return own;
  } finally {
    opened.db.close();
  }
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  await backup(process.env.HALLCLOCK_DATA || '.data', process.argv[2] ?? null).then(
    (folder) => process.stdout.write(`Everything is in ${resolve(folder)}\nPut it back with: npm run restore -- ${resolve(folder)}\n`),
    (error: Error) => { process.stderr.write(`${error.message}\n`); process.exitCode = 1; },
  );
}
