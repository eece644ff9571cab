/** Owns what each room wants of its sound, kept in one file of the data folder. Whatever is wrong with the file, the rooms sound as usual. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { type RoomSound, roomSoundSchema, usualSound } from '../../shared/wire/messages/sound.ts';
import { writeWhole } from '../own-movements.ts';

const FILE = 'sound.json';
const fileSchema = z.record(z.string(), roomSoundSchema);

export interface Wants {
  readonly of: (room: string) => RoomSound;
  /** What was set counts at once; what cannot be written down counts until the server ends, and that is said. */
  readonly set: (room: string, wants: RoomSound) => void;
  /** Resolves when all is on disk, or could not be. */
  readonly settled: () => Promise<void>;
}

export async function openWants(data: string, warn: (sentence: string) => void): Promise<Wants> {
  let all: Readonly<Record<string, RoomSound>> = {};
  try {
    const parsed = fileSchema.safeParse(JSON.parse(await readFile(join(data, FILE), 'utf8')));
    if (parsed.success) all = parsed.data;
    else warn(`${FILE} is not understood, at ${parsed.error.issues[0]?.path.map(String).join('.') ?? 'the top'}; the rooms sound as usual until it is set again on a phone.`);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') warn(`${FILE} cannot be read; the rooms sound as usual. (${String(error)})`);
  }
  let last: Promise<void> = Promise.resolve();
  return {
    of: (room) => all[room] ?? usualSound,
    set: (room, wants) => {
      all = { ...all, [room]: wants };
      last = last.then(() => writeWhole(data, FILE, `${JSON.stringify(all, null, 2)}\n`))
        .catch((error: unknown) => warn(`${FILE} cannot be written; what was set counts until the server ends. (${String(error)})`));
    },
    settled: () => last,
  };
}
