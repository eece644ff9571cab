/**
 * Owns that a studio which goes over to a database finds there what it had in its data folder: once, at the first
 * start; the folder is left as it is. Music stays in the folder.
 */
import { readdir, readFile } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { CLIP_MOST_BYTES } from '../../shared/limits.ts';
import type { StudioFiles } from './files.ts';

const FOLDERS = ['plans', 'movements', 'media'];
const SINGLE = ['timetable.json', 'emergency.json', 'cover-notes.json', 'sound.json', 'access.json'];
/** Stands beside the files where this was done. */
const DONE = 'taken-in';

/** Rejects where the database does not take it. */
export async function takeIn(data: string, files: StudioFiles, info: (sentence: string) => void): Promise<void> {
  const taken = await files.alone(async (into) => {
    if ((await into.list('')).some((f) => f.name === DONE)) return 0;
    const found = [
      ...(await readdir(data).catch(() => [])).filter((name) => SINGLE.includes(name)).map((name) => ['', name] as const),
      ...(await Promise.all(FOLDERS.map(async (folder) => (await readdir(join(data, folder), { recursive: true, withFileTypes: true }).catch(() => []))
        .filter((f) => f.isFile() && !f.name.endsWith('.half')).map((f) => [relative(data, f.parentPath).split(sep).join('/'), f.name] as const)))).flat(),
    ];
    let n = 0;
    for (const [folder, name] of found) {
      const bytes = await readFile(join(data, folder, name));
      if (bytes.length > CLIP_MOST_BYTES) continue;
      await into.write(folder, name, bytes);
      n += 1;
    }
    await into.write('', DONE, '');
    return n;
  });
  if (taken > 0) info(`${taken} files of the data folder (plans, movements, settings) were taken into the database, where all servers of the studio have them from now on; the folder is left as it is.`);
}
