/**
 * Owns `npm run restore -- FOLDER`: puts a backup where the data is. The server must not run.
 * A backup of an older version is brought to this one's shape; what was there is kept beside.
 */
import { existsSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { readings } from '../real-clock.ts';
import { CannotOpen, FILE, openDatabase } from '../store/database.ts';
import { putBack, stampOf } from './copy.ts';

export interface Restored { readonly classes: number; readonly events: number; readonly before: string | null }

/** Rejects with a sentence; then nothing was changed, or what was there is in the folder that it names. */
export async function restore(from: string, data: string): Promise<Restored> {
  if (!existsSync(join(from, FILE))) throw new Error(`There is no backup in ${resolve(from)}: it has no ${FILE}.`);
  await mkdir(data, { recursive: true });
  if (existsSync(join(data, FILE))) {
    try {
      openDatabase(data).db.close();
    } catch (error) {
      if (error instanceof CannotOpen && error.message.includes('is in use')) throw new Error('A server runs with this data folder. Stop it, restore, and start it again.');
      // Whatever else is wrong with the log that is there, it is moved aside as it is.
    }
  }
  const before = await putBack(from, data, stampOf(readings().wallMs));
  const { db } = openDatabase(data);
  const count = (table: string) => db.prepare(`SELECT count(*) FROM ${table}`).pluck().get() as number;
  const restored = { classes: count('sessions'), events: count('events'), before };
  db.close();
  return restored;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const [, , from] = process.argv;
  const data = process.env.HALLCLOCK_DATA || '.data';
  if (from === undefined) {
    process.stderr.write('Say which: npm run restore -- FOLDER, the folder of a backup.\n');
    process.exitCode = 2;
  } else {
    await restore(from, data).then(
      ({ classes, events, before }) => process.stdout.write(`${classes} classes with ${events} events are back in ${resolve(data)}\n${before === null ? '' : `What was there before is in ${resolve(before)}\n`}`),
      (error: Error) => { process.stderr.write(`${error.message}\n`); process.exitCode = 1; },
    );
  }
}
