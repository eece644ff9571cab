/**
 * Owns the review over HTTP: many classes, all rooms now, one class in figures, exports,
 * the one question, and deleting. Bodies are those of shared/wire/review.ts.
 */
import express, { type Request, type Response, Router } from 'express';
import { LINGER_MS } from '../../shared/limits.ts';
import type { ProblemBody } from '../../shared/wire/http.ts';
import { answerSchema, type Live, type RecordBody, type Review } from '../../shared/wire/review.ts';
import { NotUnderstood } from '../core/store.ts';
import { writers } from '../access/insiders.ts';
import type { Studio } from '../studio.ts';
import { clockTime } from '../../shared/view/words.ts';
import { serverAt } from '../../shared/time/units.ts';
import { openAnswers, untilAt } from './answers.ts';
import { csv, rfc3339 } from './csv.ts';
import { liveOf } from './live.ts';
import { named } from './names.ts';
import { rangeOf } from './range.ts';
import { dateOf, localTime, wasStopped } from './record.ts';
import { classData, classTable, recordHead, recordRows } from './tables.ts';

/** A page answers within this, with what has been read so far. */
export const PATIENCE_MS = 150;
/** An export waits until every class has been read, at most so long. */
export const EXPORT_PATIENCE_MS = 45_000;
export const EACH_PAGE = 500;
const stoppedWords = 'Somebody needed help in this class. It is in no figure and no export; its log can be read at the desk.';

const sorry = (response: Response, status: number, error: string, path?: string): void => {
  response.status(status).json({ error, ...(path === undefined ? {} : { path }) } satisfies ProblemBody);
};

export function reviewRoutes(studio: Studio): Router {
  const router = Router();
  const { reviews, store, clock, settings } = studio;
  const { timeZone } = settings.studio;
  const local = localTime(timeZone);
  const answers = openAnswers(store, clock.now);

  const today = () => local(clock.now()).day;

  router.get('/review', async (request, response) => {
    const range = rangeOf(request.query, today());
    if (typeof range === 'string') return sorry(response, 400, range);
    const toRead = await reviews.upToDate(PATIENCE_MS);
    response.json({ studio: settings.studio, from: range.from, to: range.to, toRead, ...named(await reviews.ask('many', range), settings.rooms) } satisfies Review);
  });

  router.get('/live', (_request, response) => { response.json(liveOf(studio) satisfies Live); });

  async function eventsOf(request: Request<{ id: string }>, response: Response) {
    const rows = await store.log(request.params.id).catch((error: unknown) => {
      if (error instanceof NotUnderstood) return error;
      throw error;
    });
    if (rows instanceof NotUnderstood) sorry(response, 422, `This class cannot be read: ${rows.message}. It was left as it is.`);
    else if (rows.length === 0) sorry(response, 404, 'There is no such class in the log.');
    else return rows.map((row) => row.event);
    return null;
  }

  router.get('/classes/:id/record', async (request, response) => {
    const toRead = await reviews.upToDate(PATIENCE_MS);
    const record = await reviews.ask('one', request.params.id);
    const closesAt = record ? untilAt(record.endedAt) : 0;
    response.json({ record, toRead, answersUntil: clock.now() < closesAt ? clockTime(serverAt(closesAt), timeZone) : null } satisfies RecordBody);
  });
  router.get(['/classes/:id/class.csv', '/classes/:id/class.json'], async (request: Request<{ id: string }>, response) => {
    const events = await eventsOf(request, response);
    if (!events) return;
    if (wasStopped(events)) return sorry(response, 409, stoppedWords);
    const name = `class-${rfc3339(events[0]?.at ?? 0, timeZone).slice(0, 10)}`;
    if (request.path.endsWith('.csv')) return sendCsv(response, name).end(csv(classTable(events, clock.now()) ?? []));
    await reviews.upToDate(PATIENCE_MS);
    response.attachment(`${name}.json`).json(classData(events, await reviews.ask('one', request.params.id), timeZone, clock.now()));
  });

  /** A range is read and sent page by page: ten years are never held at once. */
  router.get(['/export.csv', '/export.json'], async (request, response) => {
    const range = rangeOf(request.query, today());
    if (typeof range === 'string') return sorry(response, 400, range);
    const toRead = await reviews.upToDate(EXPORT_PATIENCE_MS);
    if (toRead > 0) return sorry(response, 503, `${toRead} classes of the log are still being read. Try again in a minute.`);
    const asCsv = request.path.endsWith('.csv');
    const name = `classes-${dateOf(range.from)}-to-${dateOf(range.to)}`;
    if (asCsv) sendCsv(response, name).write(csv([recordHead()]));
    else response.attachment(`${name}.json`).write(`{"studio":${JSON.stringify(settings.studio.name)},"from":"${dateOf(range.from)}","to":"${dateOf(range.to)}","columns":${JSON.stringify(recordHead())},"classes":[`);
    let any = false;
    for (let after: number | null = 0; after !== null;) {
      const page: Awaited<ReturnType<typeof reviews.ask<'list'>>> = await reviews.ask('list', range.from, range.to, after, EACH_PAGE);
      const rows = recordRows(page.records, timeZone);
      const text = asCsv ? csv(rows) : rows.map((row) => JSON.stringify(row)).join(',\n');
      if (text !== '' && any && !asCsv) response.write(',\n');
      any ||= rows.length > 0;
      if (!response.write(text)) await drained(response);
      if (response.destroyed) return;
      after = page.next;
    }
    response.end(asCsv ? '' : ']}\n');
  });

  router.get('/answers/:id', async (request, response) => {
    const asked = await answers.question(request.params.id);
    if ('problem' in asked) return sorry(response, asked.status, asked.problem);
    response.set('Cache-Control', 'no-store').json({ name: asked.summary.name, studio: settings.studio.name, untilAt: asked.untilAt, timeZone, language: settings.language });
  });
  router.post('/answers/:id', express.json({ limit: '1kb' }), async (request, response) => {
    const body = answerSchema.safeParse(request.body);
    if (!body.success) return sorry(response, 400, 'An answer is a whole number from 0 to 10.', 'rating');
    const took = await answers.take(String(request.params.id), body.data.rating, request.socket.remoteAddress ?? '');
    if ('problem' in took) return sorry(response, took.status, took.problem);
    response.json({ thanks: true });
  });

  router.delete('/classes/:id', writers(studio), async (request: Request<{ id: string }>, response) => {
    const { id } = request.params;
    if (settings.rooms.some((room) => studio.hall(room.id)?.core.log()?.id === id)) {
      return sorry(response, 409, `This class is still on its screen. It can be deleted ${LINGER_MS / 60_000} minutes after its end.`);
    }
    const removed = await store.remove([id]).catch(() => 0);
    if (!removed) return sorry(response, 404, 'There is no such class in the log, or it could not be deleted.');
    await reviews.ask('remove', [id]).catch(() => {});
    response.json({ deleted: true });
  });
  return router;
}

export const sendCsv = (response: Response, name: string): Response =>
  response.attachment(`${name}.csv`).type('text/csv; charset=utf-8; header=present');

/** Until there is room for more, or nobody listens any more. */
export const drained = (response: Response): Promise<void> => new Promise((resolve) => {
  const go = () => {
    response.off('drain', go).off('close', go);
    resolve();
  };
  response.on('drain', go).on('close', go);
});
