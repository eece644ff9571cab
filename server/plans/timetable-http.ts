/** Owns the timetable over HTTP and as a file of the studio's (timetable.json): reading, keeping with a revision, what is due, the calendar. */
import express, { Router } from 'express';
import { FILE_MOST_BYTES } from '../../shared/limits.ts';
import { issueWords, placeWords } from '../../shared/plan/read-file.ts';
import { dueIn, type Timetable, timetableSchema } from '../../shared/plan/timetable.ts';
import { dayOf } from '../../shared/time/wall.ts';
import { dueSchema, putTimetableSchema, type TimetableBody, timetableBodySchema } from '../../shared/wire/plans.ts';
import { type Files, notKept, notKeptStatus } from '../files/files.ts';
import type { Studio } from '../studio.ts';
import { calendarOf } from './calendar.ts';
import { writers } from '../access/insiders.ts';
import { sorry } from './door.ts';
import { revisionOf } from './keep.ts';

const FILE = 'timetable.json';

export function timetableRoutes(studio: Studio): Router {
  const router = Router();
  const { rooms, studio: about } = studio.settings;
  const { timeZone } = about;

  /** A file that cannot be read is an empty timetable for those who look, and is never overwritten by one. */
  async function read(files: Files = studio.files): Promise<{ timetable: Timetable; broken: string | null }> {
    const bytes = await files.read('', FILE).catch((error: unknown) => {
      if (studio.files.shared) throw error;
      return undefined;
    });
    if (bytes === null) return { timetable: { entries: [] }, broken: null };
    try {
      const parsed = timetableSchema.safeParse(JSON.parse((bytes ?? '').toString()));
      if (parsed.success) return { timetable: parsed.data, broken: null };
      const issue = parsed.error.issues[0];
      return { timetable: { entries: [] }, broken: `${FILE} of the data folder cannot be used, at ${placeWords(issue?.path ?? [])}: ${issue?.message ?? 'not understood'}. Mend it or move it away.` };
    } catch {
      return { timetable: { entries: [] }, broken: `${FILE} of the data folder cannot be read. Mend it or move it away.` };
    }
  }
  const bodyOf = (timetable: Timetable): TimetableBody => timetableBodySchema.parse({
    revision: revisionOf(timetable), entries: timetable.entries, timeZone, today: dayOf(studio.clock.now(), timeZone), rooms: rooms.map(({ id, name }) => ({ id, name })),
  });

  router.get('/timetable', async (_request, response) => {
    const { timetable, broken } = await read();
    if (broken !== null) return sorry(response, 422, broken);
    response.json(bodyOf(timetable));
  });
  router.put('/timetable', writers(studio), express.json({ limit: FILE_MOST_BYTES }), async (request, response) => {
    const parsed = putTimetableSchema.safeParse(request.body);
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      return sorry(response, 400, `This timetable cannot be kept; at ${placeWords(issue?.path ?? [])}: ${issue ? issueWords(issue) : 'not understood'}.`, issue?.path.map(String).join('.') ?? '');
    }
    const { base, entries } = parsed.data;
    const whole = timetableSchema.safeParse({ entries });
    if (!whole.success) return sorry(response, 400, `This timetable cannot be kept: ${whole.error.issues[0]?.message ?? 'not understood'}.`, 'entries');
    const lost = entries.find((e) => !rooms.some((r) => r.id === e.room));
    if (lost) return sorry(response, 400, `There is no room "${lost.room}" in this studio. Choose one of ${rooms.map((r) => r.id).join(', ')}.`, 'entries.room');
    const known = new Set((await studio.library.plans()).plans.map((p) => p.id));
    const before = new Set((await read()).timetable.entries.map((e) => e.plan));
    const gone = entries.find((e) => !known.has(e.plan) && !before.has(e.plan));
    if (gone) return sorry(response, 400, `The studio has no plan "${gone.plan}". Choose one that it has.`, 'entries.plan');
    const refused = await studio.files.alone(async (files): Promise<readonly [number, string] | null> => {
      const { timetable, broken } = await read(files);
      if (broken !== null) return [422, broken];
      if (revisionOf(timetable) !== base) return [409, 'Somebody else changed the timetable meanwhile, so nothing was overwritten. It is shown as it is now; make your change again.'];
      await files.write('', FILE, `${JSON.stringify(whole.data, null, 2)}\n`);
      return null;
    }).catch((): readonly [number, string] => [notKeptStatus(studio.files), notKept(studio.files)]);
    if (refused) return sorry(response, ...refused);
    response.json(bodyOf(whole.data));
  });
  router.get('/timetable.ics', async (_request, response) => {
    const [{ timetable }, { plans }] = await Promise.all([read(), studio.library.plans()]);
    response.attachment('timetable.ics').type('text/calendar; charset=utf-8').send(calendarOf({
      entries: timetable.entries, studio: about.name, timeZone, now: studio.clock.now(),
      plan: (id) => plans.find((p) => p.id === id)?.name ?? id, room: (id) => rooms.find((r) => r.id === id)?.name ?? id,
    }));
  });
  router.get('/rooms/:id/due', async (request, response) => {
    const { timetable } = await read();
    const { plans } = await studio.library.plans();
    const runnable = timetable.entries.filter((e) => plans.some((p) => p.id === e.plan && p.problem === null));
    const due = dueIn(runnable, String(request.params.id), timeZone, studio.clock.now());
    response.json(dueSchema.parse({ due: due && { plan: due.entry.plan, startAt: due.startAt, endAt: due.endAt } }));
  });
  return router;
}
