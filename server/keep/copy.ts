/**
 * Owns what a backup is: a folder with a whole copy of the log and of everything else in the
 * data folder, own plans, movements and pictures. What is made from the log is left out.
 */
import { cp, mkdir, readdir, rename } from 'node:fs/promises';
import { join } from 'node:path';
import { RECORDS_FILE } from '../review/records.ts';
import { FILE } from '../store/database.ts';
import { TLS_FOLDER } from '../tls/own.ts';

export const BACKUPS = 'backups';
const BEFORE = 'before-restore-';

/** The log's own files, what is made from it, earlier copies, and the key of the server's certificate, which stays on this machine. */
const leftOut = (name: string): boolean => name === TLS_FOLDER || name.startsWith(FILE) || name.startsWith(RECORDS_FILE) || name === BACKUPS || name.startsWith(BEFORE);

/** @param log writes a whole copy of the log into a file */
export async function copyData(data: string, into: string, log: (file: string) => Promise<unknown>): Promise<void> {
  const half = `${into}.half`;
  await mkdir(half, { recursive: true });
  await log(join(half, FILE));
  for (const name of await readdir(data)) if (!leftOut(name)) await cp(join(data, name), join(half, name), { recursive: true });
  // Its name says that it is whole.
  await rename(half, into);
}

/** Puts a backup where the data is; what was there is moved into a folder beside it, nothing is lost. */
export async function putBack(backup: string, data: string, stamp: string): Promise<string | null> {
  const there = (await readdir(data)).filter((name) => name !== BACKUPS && name !== TLS_FOLDER && !name.startsWith(BEFORE));
  const before = there.length === 0 ? null : join(data, `${BEFORE}${stamp}`);
  if (before !== null) await mkdir(before, { recursive: true });
  for (const name of there) await rename(join(data, name), join(before ?? data, name));
  for (const name of await readdir(backup)) await cp(join(backup, name), join(data, name), { recursive: true });
  return before;
}

/** "2026-11-25T17-20-03Z": an instant that may stand in a file's name. */
export const stampOf = (wallMs: number): string => new Date(wallMs).toISOString().replace(/\.\d+Z$/, 'Z').replaceAll(':', '-');
