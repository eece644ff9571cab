/** Owns the timetable as a file of the studio's (timetable.json), and what may be written into it. Leaves alone who asks (timetable-http.ts, houses/timetables-http.ts, upward/down.ts). */
import { issueWords, placeWords } from '../../shared/plan/read-file.ts';
import { type Entry, type Timetable, timetableSchema } from '../../shared/plan/timetable.ts';
import type { PutTimetableBody } from '../../shared/wire/plans.ts';
import { type Files, notKept, notKeptStatus, type StudioFiles } from '../files/files.ts';
import { revisionOf } from './keep.ts';

const FILE = 'timetable.json';
export interface ReadTimetable {
  /** Null where there is none yet. */
  readonly timetable: Timetable | null;
  /** Why the file cannot be used, and what to do. */
  readonly broken: string | null;
}
export const NO_LINES: Timetable = { entries: [] };

/** A file that cannot be read is an empty timetable for those who look, and is never overwritten by one. Rejects where the database cannot be asked. */
export async function readTimetable(files: Files, shared: boolean): Promise<ReadTimetable> {
  const bytes = await files.read('', FILE).catch((error: unknown) => {
    if (shared) throw error;
    return undefined;
  });
  if (bytes === null) return { timetable: null, broken: null };
  try {
    const parsed = timetableSchema.safeParse(JSON.parse((bytes ?? '').toString()));
    if (parsed.success) return { timetable: parsed.data, broken: null };
    const issue = parsed.error.issues[0];
    return { timetable: null, broken: `${FILE} of the data folder cannot be used, at ${placeWords(issue?.path ?? [])}: ${issue?.message ?? 'not understood'}. Mend it or move it away.` };
  } catch {
    return { timetable: null, broken: `${FILE} of the data folder cannot be read. Mend it or move it away.` };
  }
}
/** Rejects where it cannot be written. */
export const writeTimetable = (files: Files, entries: readonly Entry[]): Promise<void> => files.write('', FILE, `${JSON.stringify({ entries }, null, 2)}\n`);

export type Kept = { readonly timetable: Timetable } | { readonly status: number; readonly error: string; readonly path?: string };

interface About {
  readonly rooms: readonly { readonly id: string }[];
  /** Ids of the plans that there are. */
  readonly plans: ReadonlySet<string>;
}

/** Keeps what somebody sends; what cannot be kept is said, and nothing is overwritten that they had not seen. */
export async function putTimetable(files: StudioFiles, { base, entries }: PutTimetableBody, { rooms, plans }: About): Promise<Kept> {
  const whole = timetableSchema.safeParse({ entries });
  if (!whole.success) {
    const issue = whole.error.issues[0];
    return { status: 400, error: `This timetable cannot be kept: ${issue ? issueWords(issue) : 'not understood'}.`, path: 'entries' };
  }
  const lost = entries.find((e) => !rooms.some((r) => r.id === e.room));
  if (lost) return { status: 400, error: `There is no room "${lost.room}" in this studio. Choose one of ${rooms.map((r) => r.id).join(', ')}.`, path: 'entries.room' };
  return files.alone(async (alone): Promise<Kept> => {
    const { timetable, broken } = await readTimetable(alone, files.shared);
    if (broken !== null) return { status: 422, error: broken };
    const before = timetable ?? NO_LINES;
    const gone = entries.find((e) => !plans.has(e.plan) && !before.entries.some((b) => b.plan === e.plan));
    if (gone) return { status: 400, error: `The studio has no plan "${gone.plan}". Choose one that it has.`, path: 'entries.plan' };
    if (revisionOf(before) !== base) return { status: 409, error: 'Somebody else changed the timetable meanwhile, so nothing was overwritten. It is shown as it is now; make your change again.' };
    await writeTimetable(alone, whole.data.entries);
    return { timetable: whole.data };
  }).catch((): Kept => ({ status: notKeptStatus(files), error: notKept(files) }));
}
