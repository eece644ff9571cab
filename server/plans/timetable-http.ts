/** Owns the timetable over HTTP: reading, keeping with a revision, what is due, the calendar. */
import express, { type Response, Router } from 'express';
import { FILE_MOST_BYTES } from '../../shared/limits.ts';
import { issueWords, placeWords } from '../../shared/plan/read-file.ts';
import { dueIn, type Timetable } from '../../shared/plan/timetable.ts';
import { dayOf } from '../../shared/time/wall.ts';
import { dueSchema, putTimetableSchema, type TimetableBody, timetableBodySchema } from '../../shared/wire/plans.ts';
import type { StudioFiles } from '../files/files.ts';
import type { Studio } from '../studio.ts';
import { calendarOf } from './calendar.ts';
import { writers } from '../access/insiders.ts';
import { sorry } from './door.ts';
import { revisionOf } from './keep.ts';
import { NO_LINES, putTimetable, readTimetable } from './timetable.ts';

/** Whose timetable it is: this studio's, or a house's at its chain. */
export interface Whose {
  readonly files: StudioFiles;
  readonly rooms: readonly { readonly id: string; readonly name: string }[];
  readonly timeZone: string;
}
type Asked = Pick<Studio, 'library' | 'clock'>;

const bodyOf = ({ clock }: Asked, { rooms, timeZone }: Whose, timetable: Timetable): TimetableBody => timetableBodySchema.parse({
  revision: revisionOf(timetable), entries: timetable.entries, timeZone, today: dayOf(clock.now(), timeZone), rooms: rooms.map(({ id, name }) => ({ id, name })),
});
export async function answerTimetable(studio: Asked, whose: Whose, response: Response): Promise<void> {
  const { timetable, broken } = await readTimetable(whose.files, whose.files.shared);
  if (broken !== null) return sorry(response, 422, broken);
  response.json(bodyOf(studio, whose, timetable ?? NO_LINES));
}
export async function keepTimetable(studio: Asked, whose: Whose, sent: unknown, response: Response): Promise<void> {
  const parsed = putTimetableSchema.safeParse(sent);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    return sorry(response, 400, `This timetable cannot be kept; at ${placeWords(issue?.path ?? [])}: ${issue ? issueWords(issue) : 'not understood'}.`, issue?.path.map(String).join('.') ?? '');
  }
  const kept = await putTimetable(whose.files, parsed.data, { rooms: whose.rooms, plans: new Set((await studio.library.plans()).plans.map((p) => p.id)) });
  if (!('timetable' in kept)) return sorry(response, kept.status, kept.error, kept.path);
  response.json(bodyOf(studio, whose, kept.timetable));
}
export const timetableBytes = express.json({ limit: FILE_MOST_BYTES });

export function timetableRoutes(studio: Studio): Router {
  const router = Router();
  const { rooms, studio: { name, timeZone } } = studio.settings;
  const ours: Whose = { files: studio.files, rooms, timeZone };
  const lines = async () => ((await readTimetable(studio.files, studio.files.shared)).timetable ?? NO_LINES).entries;

  router.get('/timetable', (_request, response) => answerTimetable(studio, ours, response));
  router.put('/timetable', writers(studio), timetableBytes, (request, response) => keepTimetable(studio, ours, request.body, response));
  router.get('/timetable.ics', async (_request, response) => {
    const [entries, { plans }] = await Promise.all([lines(), studio.library.plans()]);
    response.attachment('timetable.ics').type('text/calendar; charset=utf-8').send(calendarOf({
      entries, studio: name, timeZone, now: studio.clock.now(),
      plan: (id) => plans.find((p) => p.id === id)?.name ?? id, room: (id) => rooms.find((r) => r.id === id)?.name ?? id,
    }));
  });
  router.get('/rooms/:id/due', async (request, response) => {
    const [entries, { plans }] = await Promise.all([lines(), studio.library.plans()]);
    const runnable = entries.filter((e) => plans.some((p) => p.id === e.plan && p.problem === null));
    const due = dueIn(runnable, String(request.params.id), timeZone, studio.clock.now());
    response.json(dueSchema.parse({ due: due && { plan: due.entry.plan, startAt: due.startAt, endAt: due.endAt } }));
  });
  return router;
}
