/** Owns what each room wants of its sound, kept in one file. Whatever is wrong with it, the rooms sound as usual. */
import { z } from 'zod';
import { type RoomSound, roomSoundSchema, usualSound } from '../../shared/wire/messages/sound.ts';
import type { StudioFiles } from '../files/files.ts';
import { openKept } from '../people/kept.ts';

const FILE = 'sound.json';
const fileSchema = z.record(z.string(), roomSoundSchema);

export interface Wants {
  readonly of: (room: string) => RoomSound;
  /** What was set counts at once; what cannot be written down counts until the server ends, and that is said. */
  readonly set: (room: string, wants: RoomSound) => void;
  /** Resolves when all is written, or could not be. */
  readonly settled: () => Promise<unknown>;
}

/** @param changed called when another server wrote it */
export async function openWants(files: StudioFiles, warn: (sentence: string) => void, changed: () => void): Promise<Wants> {
  const kept = await openKept(files, FILE, fileSchema, {}, (sentence) => warn(`${sentence} Until then the rooms sound as usual.`), { changed });
  /** What is not written yet, or could not be. */
  const own = new Map<string, RoomSound>();
  let last: Promise<unknown> = Promise.resolve();
  return {
    of: (room) => own.get(room) ?? kept.now()[room] ?? usualSound,
    set: (room, wants) => {
      own.set(room, wants);
      last = kept.change((all) => ({ ...all, [room]: wants })).then((done) => {
        if (!done) warn(`${FILE} cannot be written; what was set counts until the server ends.`);
        else if (own.get(room) === wants) own.delete(room);
      });
    },
    settled: () => last,
  };
}
