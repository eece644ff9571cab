/**
 * Owns the stops that stand beside the log, in one small file of the data folder, so that a
 * room that was stopped with no class stays stopped when the server is killed. It holds
 * times and what the stop is for; no name, no cause, nothing of anybody.
 */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { STOP_KEPT_MS } from '../../shared/limits.ts';
import { between, type ServerAt } from '../../shared/time/units.ts';
import { peopleSchema } from '../../shared/wire/messages/people.ts';
import type { BesideStop } from '../core/room-stop.ts';
import { writeWhole } from '../files/files.ts';

const FILE = 'stops.json';
const fileSchema = z.record(z.string(), peopleSchema.shape.stop.unwrap());

export interface KeptStops {
  /** The stop in which a room was left, unless it is too old to mean anything; null where it was not stopped. */
  readonly of: (room: string, now: ServerAt) => BesideStop | null;
  /** Resolves when it is on disk; or could not be, which is said: the stop itself holds all the same. */
  readonly keep: (room: string, stop: BesideStop | null) => Promise<void>;
}

export async function openKeptStops(data: string, warn: (sentence: string) => void): Promise<KeptStops> {
  let all: Readonly<Record<string, BesideStop>> = {};
  try {
    all = fileSchema.parse(JSON.parse(await readFile(join(data, FILE), 'utf8')));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') warn(`${FILE} cannot be read and counts as empty: look whether a room is still to be stopped.`);
  }
  let last: Promise<void> = Promise.resolve();
  return {
    of: (room, now) => {
      const stop = all[room];
      return stop && Math.abs(between(stop.since, now)) < STOP_KEPT_MS ? stop : null;
    },
    keep: (room, stop) => {
      const { [room]: before, ...others } = all;
      if (!stop && !before) return last;
      all = stop ? { ...others, [room]: stop } : others;
      const next = `${JSON.stringify(all, null, 2)}\n`;
      last = last.then(() => writeWhole(data, FILE, next))
        .catch((error: unknown) => warn(`${FILE} cannot be written: a room that is stopped now is not after a restart. (${String(error)})`));
      return last;
    },
  };
}
