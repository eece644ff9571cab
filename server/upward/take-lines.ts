/** Owns what becomes here of the timetable that the chain made for this studio: line by line it is brought together with the studio's own, and what both changed waits until somebody chose. */
import { z } from 'zod';
import { mergeTimetables, type MergedTimetable } from '../../shared/plan/merge-timetable.ts';
import { same } from '../../shared/plan/merge.ts';
import { type Entry, entrySchema, timetableSchema } from '../../shared/plan/timetable.ts';
import { notKept, type StudioFiles } from '../files/files.ts';
import { NO_LINES, readTimetable, writeTimetable } from '../plans/timetable.ts';
import { Hindered } from './hindered.ts';

export const linesStandSchema = z.strictObject({
  /** What both have last had in common, and what the chain has. */
  base: z.array(entrySchema), theirs: z.array(entrySchema),
});
export type LinesStand = z.infer<typeof linesStandSchema>;
export const noLinesYet: LinesStand = { base: [], theirs: [] };

/** What waits, of the timetable as it is here. Rejects where it cannot be asked. */
export async function linesThatWait(files: StudioFiles, { base, theirs }: LinesStand): Promise<MergedTimetable['conflicts']> {
  const { timetable } = await readTimetable(files, files.shared);
  return mergeTimetables(base, (timetable ?? NO_LINES).entries, theirs).conflicts;
}

type Seen = { readonly id: string; readonly ours: Entry | null; readonly theirs: Entry | null; readonly whose: 'ours' | 'theirs' };

/** Rejects with Hindered. @param seen what somebody chose @returns how it stands now; null where it is not as they saw it, or the file cannot be used */
export function takeLines(files: StudioFiles, theirs: readonly Entry[], { base }: LinesStand, say: (sentence: string) => void, seen: Seen | null = null): Promise<LinesStand | null> {
  return files.alone(async (alone): Promise<LinesStand | null> => {
    const { timetable, broken } = await readTimetable(alone, files.shared);
    if (broken !== null) {
      say(broken);
      return null;
    }
    const ours = (timetable ?? NO_LINES).entries;
    const of = (list: readonly Entry[], id: string): Entry | null => list.find((e) => e.id === id) ?? null;
    if (seen && !(same(of(ours, seen.id), seen.ours) && same(of(theirs, seen.id), seen.theirs))) return null;
    const { entries, conflicts } = mergeTimetables(base, ours, theirs, seen ? { [seen.id]: seen.whose } : {});
    const read = timetableSchema.safeParse({ entries });
    if (!read.success) {
      say(`The chain's timetable and the studio's do not fit into one: ${read.error.issues[0]?.message ?? 'not understood'}. The studio's stays.`);
      return null;
    }
    if (!same(ours, entries)) await writeTimetable(alone, read.data.entries);
    const waiting = new Set(conflicts.map((c) => c.id));
    return { base: [...theirs.filter((e) => !waiting.has(e.id)), ...base.filter((e) => waiting.has(e.id))], theirs: [...theirs] };
  }).catch((error: unknown) => { throw error instanceof Hindered ? error : new Hindered(notKept(files)); });
}
